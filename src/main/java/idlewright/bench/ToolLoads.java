package idlewright.bench;

import idlewright.bench.MeasurementReads.Row;
import idlewright.bench.MeasurementReads.Sheet;
import idlewright.bench.model.KeptReading;
import idlewright.intake.VehicleView;
import idlewright.reference.air.Engine;
import idlewright.reference.air.ParkedAirflow;
import idlewright.reference.units.Unit;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;

/** Holds a tool's calculated load against the air that was measured: some tools show another figure under that name. */
final class ToolLoads {

    private ToolLoads() {}

    /** The reading with a note, where the latest air flow of the same side of the repair says that it cannot be. */
    static ReadingView beside(ReadingView load, Row row, Sheet sheet) {
        VehicleView vehicle = sheet.vehicle();
        String where = switch (load.point()) {
            case "load-idle" -> "idle";
            case "load-2500" -> "2500";
            default -> "";
        };
        if (where.isEmpty() || load.value() == null || vehicle.displacementL() == null) {
            return load;
        }
        List<KeptReading> flows = sheet.tests().stream()
                .filter(test -> test.procedure().equals("air-flow") && test.after() == row.after())
                .flatMap(test -> sheet.kept(test).stream())
                .toList();
        OptionalDouble flow = last(flows, "flow-" + where, Unit.GRAM_PER_SECOND);
        OptionalDouble rpm = last(flows, "rpm-" + where, Unit.RPM);
        if (flow.isEmpty() || rpm.isEmpty()) {
            return load;
        }
        Engine engine = Engine.fourStroke(vehicle.displacementL().doubleValue(), 4);
        if (vehicle.boosted()) engine = engine.withBoost();
        if (vehicle.diesel()) engine = engine.asDiesel();
        return ParkedAirflow.noteOnToolLoad(engine, load.value().doubleValue(), flow.getAsDouble(), rpm.getAsDouble())
                .map(load::noting)
                .orElse(load);
    }

    private static OptionalDouble last(List<KeptReading> readings, String point, Unit unit) {
        return readings.stream()
                .filter(each -> each.counts() && each.point().equals(point) && each.value() != null)
                .mapToDouble(each -> unit.fromSi(Objects.requireNonNull(each.unit())
                        .toSi(Objects.requireNonNull(each.value()).doubleValue())))
                .reduce((first, second) -> second);
    }
}
