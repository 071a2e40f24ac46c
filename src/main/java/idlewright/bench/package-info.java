/**
 * The workbench: procedures done once (measurements), readings with their verdicts, instruments, limits, the shop's
 * known-good library, the ranking of causes and the next test. Never decides a cause, never touches money.
 *
 * <p>For the log import and the set-up pages: {@link idlewright.bench.Bench#keep(long, Bench.Read)} takes numbers, choices,
 * codes and series (a pasted text of two columns, or {@link idlewright.bench.Bench#keepSeries}); the tables
 * {@code instrument}, {@code vehicle_limit} and {@code known_good} are written through {@link idlewright.bench.Instruments},
 * {@link idlewright.bench.VehicleLimits} and {@link idlewright.bench.KnownGoods}.
 */
@ApplicationModule(
        allowedDependencies = {"reference", "frame", "people", "journal", "journal::rules", "intake", "intake::rules"})
@NullMarked
package idlewright.bench;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
