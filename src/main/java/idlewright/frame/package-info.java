/**
 * What every page stands on: refusals and their pages, the once-only post, the clock, shown times, plots and paper. Knows
 * nothing of tickets.
 */
@ApplicationModule(type = ApplicationModule.Type.OPEN, allowedDependencies = "reference")
package idlewright.frame;

import org.springframework.modulith.ApplicationModule;
