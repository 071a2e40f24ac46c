/**
 * The repair: the cause that was decided on, the part removed and the part fitted with its checks, and the work done.
 * Reports what it costs to billing; never measures and never proves.
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
            "billing",
            "billing::rules"
        })
package idlewright.repair;

import org.springframework.modulith.ApplicationModule;
