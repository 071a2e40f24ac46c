/** What may follow what on a thread, whose move it is, and what the counter asks for each kind of symptom. */
@NamedInterface("rules")
package idlewright.intake.rules;

import org.springframework.modulith.NamedInterface;
