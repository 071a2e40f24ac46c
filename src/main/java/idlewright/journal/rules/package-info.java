/** What an entry is, how it is written down in one way only, and how the chain of them is checked. */
@NamedInterface("rules")
@NullMarked
package idlewright.journal.rules;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
