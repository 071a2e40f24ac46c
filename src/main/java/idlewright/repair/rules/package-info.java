/** When two part numbers are the same, and when a part may be called final. */
@NamedInterface("rules")
package idlewright.repair.rules;

import org.springframework.modulith.NamedInterface;
