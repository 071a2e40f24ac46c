/** Which tests are held side by side, when a repair counts as proved, and what may come of a follow-up. */
@NamedInterface("rules")
package idlewright.proof.rules;

import org.springframework.modulith.NamedInterface;
