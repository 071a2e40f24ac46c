/**
 * The owner's evenings: which repairs came back, why, what that cost, and whether a difference is real or chance. Reads only,
 * by views; never writes anything.
 */
@ApplicationModule(
        allowedDependencies = {"reference", "frame", "people", "intake", "intake::rules", "billing", "proof::rules"})
package idlewright.insight;

import org.springframework.modulith.ApplicationModule;
