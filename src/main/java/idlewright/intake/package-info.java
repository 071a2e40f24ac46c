/**
 * The counter's side of a visit: who came with which car, and what they said in their own words. Keeps the stamps from which
 * the stage of every thread and whose move it is are told. Never asks a later room; later rooms stamp here.
 */
@ApplicationModule(allowedDependencies = {"reference", "frame", "people", "journal"})
package idlewright.intake;

import org.springframework.modulith.ApplicationModule;
