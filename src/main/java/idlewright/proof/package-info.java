/**
 * The proof: the same test before and after, the customer's word some days later, and what is done when a symptom comes
 * back. Never decides a cause and never touches money.
 */
@ApplicationModule(
        allowedDependencies = {
            "reference",
            "frame",
            "people",
            "journal",
            "intake",
            "intake::rules",
            "bench",
            "bench::rules",
            "repair",
            "repair::rules"
        })
package idlewright.proof;

import org.springframework.modulith.ApplicationModule;
