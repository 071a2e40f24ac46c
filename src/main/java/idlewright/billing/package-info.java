/**
 * Money: what is offered, agreed, charged, invoiced and paid. Stands before the repair, so that a part is fitted against an
 * agreed line and reports its charge here. Never fits, never tests.
 */
@ApplicationModule(
        allowedDependencies = {"reference", "frame", "people", "journal", "journal::rules", "intake", "intake::rules"})
package idlewright.billing;

import org.springframework.modulith.ApplicationModule;
