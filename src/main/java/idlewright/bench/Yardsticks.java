package idlewright.bench;

import idlewright.bench.model.KeptReading;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KnownGood;
import idlewright.bench.rules.Limit;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.frame.Tuple;
import idlewright.intake.VehicleView;
import idlewright.reference.air.Engine;
import idlewright.reference.air.ParkedAirflow;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Ground;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What readings are held against, apart from the catalogue: published limits of the shop, its known-good readings, and
 * physics. Everything as it stood at a moment, so that an old test keeps its verdicts.
 */
final class Yardsticks {

    /** Limits by point; and by point what the shop has read on proved vehicles of this engine family, in the point's first unit. */
    record Held(Map<String, List<Limit>> limits, Map<String, double[]> good) {}

    /** Limits for a vehicle or its engine family. */
    static final String LIMITS = """
            select l.procedure_key, l.point, l.at, s.at struck_at, l.low, l.high, l.unit, l.citation
            from vehicle_limit l left join vehicle_limit_strike s on s.limit_id = l.id
            where l.vehicle_id = :vehicle or l.engine_family = :family
            order by l.vehicle_id nulls last, l.id desc""";

    /** What is known good in an engine family, place by place: {@link KnownGood#perCar} makes one value a car of it. */
    static final String GOOD = """
            select k.procedure_key, k.point, k.measurement_id, k.vehicle_id, k.si, k.at, s.at struck_at
            from known_good k left join known_good_strike s on s.known_good_id = k.id
            where k.engine_family = :family order by k.id""";

    private Yardsticks() {}

    /** What one vehicle is held against, of the rows that {@link #LIMITS} and {@link #GOOD} gave. */
    static Yardstick of(VehicleView vehicle, List<Tuple> limits, List<Tuple> good) {
        return new Yardstick(
                vehicle,
                limits.stream()
                        .map(r -> new Published(
                                r.getString("procedure_key"),
                                r.getString("point"),
                                Span.of(r),
                                new Limit(
                                        r.getDoubleOrNull("low"),
                                        r.getDoubleOrNull("high"),
                                        Unit.of(r.getString("unit")).orElseThrow(),
                                        Ground.PUBLISHED,
                                        r.getString("citation"))))
                        .toList(),
                good.stream()
                        .map(r -> new Good(
                                r.getString("procedure_key"),
                                r.getString("point"),
                                Span.of(r),
                                r.getLong("measurement_id"),
                                r.getLong("vehicle_id"),
                                r.getDouble("si")))
                        .toList());
    }

    /** From when until when something stood. */
    private record Span(Instant from, Instant until) {
        static Span of(Tuple r) {
            Instant struck = r.getInstant("struck_at");
            return new Span(r.getInstant("at"), struck == null ? Instant.MAX : struck);
        }

        boolean holds(Instant moment) {
            return !from.isAfter(moment) && until.isAfter(moment);
        }
    }

    private record Published(String procedure, String point, Span span, Limit limit) {}

    private record Good(String procedure, String point, Span span, long measurement, long vehicle, double si) {}

    /** What one vehicle is held against. */
    record Yardstick(VehicleView vehicle, List<Published> published, List<Good> good) {

        /** The same for one test, as it stood at a moment; its own readings never judge themselves. */
        Held at(
                Procedure procedure,
                long measurement,
                List<KeptReading> readings,
                Conditions conditions,
                Instant moment) {
            var limits = new HashMap<String, List<Limit>>();
            var dots = new HashMap<String, double[]>();
            for (Point point : procedure.points()) {
                var held = new ArrayList<Limit>();
                published.stream()
                        .filter(each -> each.procedure.equals(procedure.key())
                                && each.point.equals(point.key())
                                && each.span.holds(moment)
                                && !point.units().isEmpty()
                                && each.limit.unit().dimension() == point.unit().dimension())
                        .forEach(each -> held.add(each.limit));
                double[] values = KnownGood.perCar(good.stream()
                        .filter(each -> each.procedure.equals(procedure.key())
                                && each.point.equals(point.key())
                                && each.measurement != measurement
                                && each.span.holds(moment))
                        .map(each -> new KnownGood.Seen(
                                each.vehicle,
                                each.measurement,
                                KnownGood.tidy(point.unit().fromSi(each.si))))
                        .toList());
                if (values.length > 0) {
                    dots.put(point.key(), values);
                    KnownGood.band(values).limit(point.unit()).ifPresent(held::add);
                }
                airflow(point, readings, conditions).ifPresent(held::add);
                if (!held.isEmpty()) {
                    limits.put(point.key(), held);
                }
            }
            return new Held(limits, dots);
        }

        /** The flow that the usual share of absolute load means for this engine at the speed it was read at. */
        private Optional<Limit> airflow(Point point, List<KeptReading> readings, Conditions conditions) {
            ParkedAirflow.Point where = switch (point.key()) {
                case "flow-idle" -> ParkedAirflow.Point.IDLE;
                case "flow-2500" -> ParkedAirflow.Point.RPM_2500;
                default -> null;
            };
            Double coolant = conditions.coolantC();
            if (where == null
                    || vehicle.displacementL() == null
                    || vehicle.diesel()
                    || vehicle.strokes() != 4
                    || coolant == null
                    || coolant < Conditions.OPERATING_TEMPERATURE_C) {
                return Optional.empty();
            }
            double rpm = at(readings, point.key().replace("flow", "rpm"))
                    .mapToDouble(reading ->
                            java.util.Objects.requireNonNull(reading.value()).doubleValue())
                    .findFirst()
                    .orElse(point.rpm() == null ? 0 : point.rpm());
            boolean idle = where == ParkedAirflow.Point.IDLE;
            if (idle ? rpm < 400 || rpm > 1200 : rpm < 2250 || rpm > 2750) {
                return Optional.empty();
            }
            Band band = ParkedAirflow.bandGps(
                    Engine.fourStroke(vehicle.displacementL().doubleValue(), 4), where, rpm);
            return Optional.of(new Limit(
                    tenths(band.low()),
                    tenths(band.high()),
                    Unit.GRAM_PER_SECOND,
                    Ground.PHYSICS,
                    String.format(
                            Locale.ROOT,
                            "%s L at %,.0f rpm filled %.0f to %.0f %%, the share by common practice",
                            vehicle.displacementL().stripTrailingZeros().toPlainString(),
                            rpm,
                            where.lowPercent(),
                            where.highPercent())));
        }

        private static double tenths(double value) {
            return Math.round(value * 10) / 10.0;
        }

        private static Stream<KeptReading> at(List<KeptReading> readings, String point) {
            return readings.stream()
                    .filter(reading -> reading.counts()
                            && reading.value() != null
                            && reading.point().equals(point));
        }
    }
}
