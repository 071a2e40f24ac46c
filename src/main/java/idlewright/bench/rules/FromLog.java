package idlewright.bench.rules;

import idlewright.reference.obd.log.LogQuantity;
import idlewright.reference.obd.log.LogReading;
import idlewright.reference.obd.log.LogReading.Kind;
import idlewright.reference.obd.log.LogReading.State;
import idlewright.reference.units.Unit;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.IntStream;

/** What of a scan-tool log can become a reading of a procedure: steady states at its points, and pulls as its sweep. */
public final class FromLog {

    private FromLog() {}

    /**
     * A value that fits a point.
     *
     * @param spot bank from 1, or 0
     * @param place of the state in the log, from 0
     */
    public record Offer(Point point, int spot, int place, State state, LogReading.Reading reading) {

        /** "short-idle.1": the point and its bank. */
        public String key() {
            return point.key() + "." + spot;
        }

        /** The median, with as many decimals as the coding can show. */
        public String typed() {
            int decimals = reading.unit() == Unit.RPM
                    ? 0
                    : Math.min(4, Math.max(0, (int)
                            Math.ceil(-Math.log10(reading.quantity().step()) - 1e-9)));
            return BigDecimal.valueOf(reading.median())
                    .setScale(decimals, RoundingMode.HALF_EVEN)
                    .toPlainString();
        }

        /** "3.56 g/s, hot idle from 12 to 47 s". */
        public String words() {
            return (typed() + " " + reading.unit().symbol()).strip() + ", " + span(state);
        }

        /** "Median of 35 values, hot idle from 12 to 47 s, spread 0.05 g/s.", for beside the reading. */
        public String note() {
            return String.format(
                    Locale.ROOT,
                    "From the log: median of %,d %s, %s, spread %s.",
                    reading.n(),
                    reading.n() == 1 ? "value" : "values",
                    span(state),
                    Figures.of(
                            new BigDecimal(reading.spread())
                                    .round(new MathContext(2, RoundingMode.HALF_EVEN))
                                    .doubleValue(),
                            reading.unit()));
        }
    }

    /** "hot idle from 12 to 47 s". */
    public static String span(State state) {
        return String.format(
                Locale.ROOT, "%s from %,.0f to %,.0f s", state.kind().words(), state.from(), state.to());
    }

    /** In the order of the procedure; for one point the longest state first. */
    public static List<Offer> offers(Procedure procedure, LogReading log) {
        if (!log.plausible() || !procedure.takesLogs()) {
            return List.of();
        }
        var offers = new ArrayList<Offer>();
        for (Point point : procedure.toRead()) {
            if (point.kind() != Point.Kind.NUMBER || point.per() == Point.Per.CYLINDER) continue;
            int banks = point.per() == Point.Per.BANK ? 2 : 0;
            for (int spot = Math.min(1, banks); spot <= banks; spot++) offers.addAll(at(point, spot, log));
        }
        return offers;
    }

    private static List<Offer> at(Point point, int spot, LogReading log) {
        Optional<LogQuantity> quantity = quantity(point.key(), spot);
        List<Kind> kinds = kinds(point.at());
        if (quantity.isEmpty()
                || point.unit().dimension() != quantity.get().unit().dimension()) return List.of();
        return IntStream.range(0, log.states().size())
                .boxed()
                .filter(place -> kinds.contains(log.states().get(place).kind()))
                .sorted(Comparator.comparingDouble((Integer place) ->
                        log.states().get(place).from() - log.states().get(place).to()))
                .flatMap(place -> log.states().get(place).reading(quantity.get()).stream()
                        .map(reading ->
                                new Offer(point, spot, place, log.states().get(place), reading)))
                .toList();
    }

    private static Optional<LogQuantity> quantity(String point, int bank) {
        return Optional.ofNullable(
                switch (point.replaceFirst("-.*", "")) {
                    case "flow" -> LogQuantity.MASS_AIR_FLOW;
                    case "rpm" -> LogQuantity.ENGINE_SPEED;
                    case "load" -> LogQuantity.CALCULATED_LOAD;
                    case "short" -> bank == 2 ? LogQuantity.SHORT_TRIM_2 : LogQuantity.SHORT_TRIM_1;
                    case "long" -> bank == 2 ? LogQuantity.LONG_TRIM_2 : LogQuantity.LONG_TRIM_1;
                    case "advance" -> LogQuantity.SPARK_ADVANCE;
                    case "manifold" -> LogQuantity.MANIFOLD_PRESSURE;
                    case "barometer" -> LogQuantity.BAROMETER;
                    default -> null;
                });
    }

    /** A log without coolant temperature tells only that it idles; whether hot, the conditions of the test say. */
    private static List<Kind> kinds(String at) {
        if (at.isEmpty()) return List.of(Kind.values());
        if (at.equals("idle")) return List.of(Kind.HOT_IDLE, Kind.IDLE);
        if (at.startsWith("2,500 rpm")) return List.of(Kind.RPM_2500_NO_LOAD);
        if (at.contains("cruise")) return List.of(Kind.CRUISE);
        if (at.startsWith("full throttle")) return List.of(Kind.WIDE_OPEN);
        if (at.startsWith("key on")) return List.of(Kind.KEY_ON);
        return List.of();
    }

    /** The point of the procedure that a pull in a log can be read at. */
    public static Optional<Point> sweepPoint(Procedure procedure) {
        return procedure.key().equals(Procedure.SWEEP)
                ? procedure.toRead().stream()
                        .filter(point -> point.kind() == Point.Kind.SERIES)
                        .findFirst()
                : Optional.empty();
    }

    /** A pull as a series. */
    public static Series series(LogReading.Ramp ramp) {
        return new Series(
                ramp.x().words(),
                ramp.x().unit().symbol(),
                ramp.y().words(),
                ramp.y().unit().symbol(),
                ramp.xs(),
                ramp.ys());
    }
}
