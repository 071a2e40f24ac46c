/** How lines add up, how tax is taken, and when a charge is covered by what was agreed. */
@NamedInterface("rules")
package idlewright.billing.rules;

import org.springframework.modulith.NamedInterface;
