/**
 * What the shop stands for after the car has gone: the terms of its own work, the sealed evidence of a thread, and the money
 * asked back from suppliers. Never changes what other rooms have written.
 */
@ApplicationModule(
        allowedDependencies = {
            "reference",
            "frame",
            "people",
            "journal",
            "journal::rules",
            "intake",
            "intake::rules",
            "bench",
            "bench::rules",
            "billing",
            "billing::rules",
            "repair",
            "repair::rules"
        })
package idlewright.warranty;

import org.springframework.modulith.ApplicationModule;
