package idlewright.reference.obd.log;

import idlewright.reference.obd.log.LogReading.Kind;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Cuts a log into steady states while it streams by.
 *
 * <p>What the engine does (idle, cruise ...) is told from thresholds with hysteresis. Inside an idle, a parked 2,500 rpm
 * and a cruise, a two-sided cumulative sum of clipped residuals (Page 1954, with the residual clipped at three spreads so
 * that single spikes count little) watches for a change; the state then ends where the sum last stood at zero. Steps are
 * weighted by time, so that 10 Hz and 5 s logs behave alike: about two seconds, or two rows, of a clear change.
 */
final class SteadyStates {
    /** Coolant from which an idle is called hot, degC (common practice, no source). */
    private static final double HOT = 70;

    private static final double CLIP = 3;
    private static final double SLACK = 1;
    private static final double ALARM = 3.5;
    private static final int MOST_WAITING = 600;
    private static final int MOST_STATES = 400;
    /** Longer without a row than this and than three usual steps, and the state has ended. */
    private static final double HOLE = 16;

    private final boolean diesel;
    private final List<LogReading.State> states = new ArrayList<>();
    private int dropped;

    private @Nullable Kind kind;
    private double lastTime = Double.NaN;
    private double usualStep;
    private boolean engineHasRun;
    private boolean throttleOpenAtIdle;
    private final boolean[] seen = new boolean[Held.SIZE];

    /** Committed part of the present state. */
    private final Sampled[] kept = new Sampled[Held.SIZE];

    private long rowsKept;
    private double from;
    private double to;

    /** Rows of the present kind that are not yet known to belong to the state. */
    private final ArrayDeque<Row> waiting = new ArrayDeque<>();

    /** Rows of another kind: spikes, or the start of something else. */
    private final ArrayDeque<Row> strays = new ArrayDeque<>();

    private final ArrayDeque<Row> pool = new ArrayDeque<>();
    private List<Watch> watches = List.of();
    private boolean settled;

    private static final class Row {
        double time;
        long fresh;

        @Nullable
        Kind kind;

        final double[] value = new double[Held.SIZE];
    }

    /** One quantity under watch for a change. */
    private static final class Watch {
        final LogQuantity quantity;
        final double floor;
        final double floorShare;
        final double widest;
        final double widestShare;
        double centre;
        double anchor;
        double spread;
        double up;
        double down;

        Watch(LogQuantity quantity, double floor, double floorShare, double widest, double widestShare) {
            this.quantity = quantity;
            this.floor = floor;
            this.floorShare = floorShare;
            this.widest = widest;
            this.widestShare = widestShare;
        }

        double widest(double centre) {
            return Math.max(widest, widestShare * Math.abs(centre));
        }

        /** Takes centre and spread from the first rows; false when they are too restless for a steady state. */
        boolean settle(ArrayDeque<Row> rows) {
            double[] values = new double[rows.size()];
            int n = 0;
            for (Row row : rows) {
                double value = row.value[quantity.ordinal()];
                if (!Double.isNaN(value)) {
                    values[n++] = value;
                }
            }
            double drift = n == 0 ? 0 : Math.abs(values[n - 1] - values[0]);
            centre = Sampled.median(values, n);
            anchor = centre;
            up = 0;
            down = 0;
            if (n == 0) {
                return true;
            }
            for (int i = 0; i < n; i++) {
                values[i] = Math.abs(values[i] - centre);
            }
            double measured = 1.4826 * Sampled.median(values, n);
            spread = Math.max(measured, Math.max(floor, floorShare * Math.abs(centre)));
            return measured <= widest(centre) && drift <= 2 * widest(centre);
        }

        /** Takes one more value; true when the quantity has left its level. */
        boolean changed(double value, double step) {
            if (Double.isNaN(value)) {
                return false;
            }
            if (Double.isNaN(centre)) {
                centre = value;
                anchor = value;
                spread = Math.max(floor, floorShare * Math.abs(value));
            }
            double away = Math.max(-CLIP, Math.min(CLIP, (value - centre) / spread));
            double weight = Math.min(1, Math.max(0.02, step));
            up = Math.max(0, up + (away - SLACK) * weight);
            down = Math.max(0, down + (-away - SLACK) * weight);
            centre += away * spread * Math.min(0.2, step / 20);
            return up > ALARM || down > ALARM || Math.abs(centre - anchor) > 2 * widest(anchor);
        }

        boolean calm() {
            return up == 0 && down == 0;
        }
    }

    SteadyStates(boolean diesel) {
        this.diesel = diesel;
        for (int i = 0; i < kept.length; i++) {
            kept[i] = new Sampled();
        }
    }

    void at(double time, Held held) {
        long fresh = held.fresh;
        for (long rest = fresh; rest != 0; rest &= rest - 1) {
            seen[Long.numberOfTrailingZeros(rest)] = true;
        }
        double step = time - lastTime;
        if (step > Math.max(HOLE, 3 * usualStep)) {
            breakHere();
        } else if (step > 0) {
            usualStep += (step - usualStep) * (usualStep == 0 ? 1 : 0.05);
        }
        double weight = step >= 0 ? step : 0;
        lastTime = time;
        Kind now = classify(time, held);
        Row row = row(time, held);
        if (now == kind) {
            forget(strays);
            take(row, weight);
            return;
        }
        if (kind == null) {
            begin(now);
            take(row, weight);
            return;
        }
        row.kind = now;
        strays.add(row);
        double lasting = time - strays.peekFirst().time + usualStep;
        if (lasting >= 0.6 && (strays.size() >= 2 || usualStep > 3) || strays.size() >= MOST_WAITING) {
            close();
            begin(now);
            List<Row> replay = new ArrayList<>(strays);
            strays.clear();
            for (Row stray : replay) {
                if (stray.kind == now) {
                    take(stray, usualStep);
                } else {
                    pool.add(stray);
                }
            }
        }
    }

    private Row row(double time, Held held) {
        Row row = pool.isEmpty() ? new Row() : pool.removeLast();
        row.time = time;
        row.fresh = held.fresh;
        System.arraycopy(held.value, 0, row.value, 0, Held.SIZE);
        return row;
    }

    private void forget(ArrayDeque<Row> rows) {
        if (!rows.isEmpty()) {
            pool.addAll(rows);
            rows.clear();
        }
    }

    private @Nullable Kind classify(double time, Held held) {
        double rpm = held.get(LogQuantity.ENGINE_SPEED, time);
        double speed = held.get(LogQuantity.VEHICLE_SPEED, time);
        if (Double.isNaN(rpm)) {
            return speed >= (kind == Kind.CRUISE ? 25 : 30) ? Kind.CRUISE : null;
        }
        if (Double.isNaN(speed)) {
            speed = held.get(LogQuantity.GPS_SPEED, time) > 8 ? held.get(LogQuantity.GPS_SPEED, time) : speed;
        }
        // A log without any vehicle speed may still show an idle; one whose speed is missing now may not.
        boolean noSpeed = !seen[LogQuantity.VEHICLE_SPEED.ordinal()] && Double.isNaN(speed);
        boolean parked = noSpeed || speed <= (isParked(kind) ? 2 : 1);
        if (rpm < 50) {
            return parked ? Kind.KEY_ON : null;
        }
        if (rpm < 450) {
            boolean starting = kind == Kind.KEY_ON || kind == Kind.CRANKING || !engineHasRun;
            return starting && parked ? Kind.CRANKING : null;
        }
        engineHasRun = true;
        if (wideOpen(time, held)) {
            return Kind.WIDE_OPEN;
        }
        double coolant = held.get(LogQuantity.COOLANT_TEMPERATURE, time);
        if (parked) {
            boolean cold = coolant < (kind == Kind.WARM_UP ? HOT + 1 : HOT - 1);
            if (cold && rpm < 1800) {
                return Kind.WARM_UP;
            }
            if (rpm < (isIdle(kind) ? 1250 : 1150)) {
                noteThrottleAtIdle(held.get(LogQuantity.THROTTLE, time));
                return Double.isNaN(coolant) ? Kind.IDLE : Kind.HOT_IDLE;
            }
            double room = kind == Kind.RPM_2500_NO_LOAD ? 400 : 300;
            return !noSpeed && Math.abs(rpm - 2500) <= room ? Kind.RPM_2500_NO_LOAD : null;
        }
        return speed >= (kind == Kind.CRUISE ? 25 : 30) && rpm >= 700 ? Kind.CRUISE : null;
    }

    private static boolean isParked(@Nullable Kind kind) {
        return isIdle(kind) || kind == Kind.RPM_2500_NO_LOAD || kind == Kind.KEY_ON || kind == Kind.WARM_UP;
    }

    private static boolean isIdle(@Nullable Kind kind) {
        return kind == Kind.IDLE || kind == Kind.HOT_IDLE;
    }

    /** The plate of a diesel stands open at idle and says nothing about the driver's foot. */
    private void noteThrottleAtIdle(double throttle) {
        throttleOpenAtIdle |= throttle > 55;
    }

    private boolean wideOpen(double time, Held held) {
        double most = kind == Kind.WIDE_OPEN ? 72 : 77;
        double pedal = held.get(LogQuantity.PEDAL, time);
        if (!Double.isNaN(pedal)) {
            return pedal > most;
        }
        return !diesel && !throttleOpenAtIdle && held.get(LogQuantity.THROTTLE, time) > most;
    }

    private void begin(@Nullable Kind next) {
        kind = next;
        rowsKept = 0;
        for (Sampled sampled : kept) {
            sampled.clear();
        }
        forget(waiting);
        settled = false;
        watches = next == null ? List.of() : watches(next);
    }

    private List<Watch> watches(Kind next) {
        return switch (next) {
            case IDLE, HOT_IDLE -> {
                List<Watch> list = new ArrayList<>();
                list.add(new Watch(LogQuantity.ENGINE_SPEED, 30, 0, 150, 0));
                if (seen[LogQuantity.MASS_AIR_FLOW.ordinal()]) {
                    list.add(new Watch(LogQuantity.MASS_AIR_FLOW, 0.1, 0.08, 0.3, 0.25));
                } else if (seen[LogQuantity.MANIFOLD_PRESSURE.ordinal()]) {
                    list.add(new Watch(LogQuantity.MANIFOLD_PRESSURE, 1.5, 0.05, 4, 0.15));
                }
                yield list;
            }
            case RPM_2500_NO_LOAD -> List.of(new Watch(LogQuantity.ENGINE_SPEED, 40, 0, 150, 0));
            case CRUISE ->
                List.of(
                        new Watch(LogQuantity.VEHICLE_SPEED, 0.8, 0.01, 1.8, 0.025),
                        new Watch(LogQuantity.ENGINE_SPEED, 20, 0.015, 60, 0.03));
            default -> List.of();
        };
    }

    private void take(Row row, double step) {
        if (kind == null) {
            pool.add(row);
            return;
        }
        if (watches.isEmpty()) {
            commit(row);
            return;
        }
        if (!settled) {
            waiting.add(row);
            settle();
            return;
        }
        boolean changed = false;
        boolean calm = true;
        for (Watch watch : watches) {
            if ((row.fresh & 1L << watch.quantity.ordinal()) != 0) {
                changed |= watch.changed(row.value[watch.quantity.ordinal()], step);
            }
            calm &= watch.calm();
        }
        waiting.add(row);
        if (changed) {
            List<Row> next = new ArrayList<>(waiting);
            waiting.clear();
            Kind same = kind;
            close();
            begin(same);
            waiting.addAll(next);
            settle();
        } else if (calm || waiting.size() >= MOST_WAITING) {
            commitWaiting();
        }
    }

    private void settle() {
        double span = waiting.peekLast().time - waiting.peekFirst().time;
        boolean enough = waiting.size() >= 5 && span >= 2 || waiting.size() >= 3 && usualStep > 1.5;
        if (!enough) {
            if (waiting.size() >= MOST_WAITING) {
                pool.add(waiting.removeFirst());
            }
            return;
        }
        boolean steady = true;
        for (Watch watch : watches) {
            steady &= watch.settle(waiting);
        }
        if (steady) {
            settled = true;
            commitWaiting();
        } else {
            // Not steady yet: the oldest rows go, a few at a time so that fast logs stay cheap.
            int out = Math.max(1, waiting.size() / 3);
            for (int i = 0; i < out; i++) {
                pool.add(waiting.removeFirst());
            }
        }
    }

    private void commitWaiting() {
        while (!waiting.isEmpty()) {
            commit(waiting.removeFirst());
        }
    }

    private void commit(Row row) {
        if (rowsKept++ == 0) {
            from = row.time;
        }
        to = row.time;
        for (long rest = row.fresh; rest != 0; rest &= rest - 1) {
            int q = Long.numberOfTrailingZeros(rest);
            kept[q].add(row.value[q]);
        }
        pool.add(row);
    }

    private void close() {
        int fewest = kind == Kind.WIDE_OPEN ? 2 : 3;
        if (kind == null || rowsKept < fewest || to - from < kind.shortestSeconds() - 1e-6) {
            return;
        }
        List<LogReading.Reading> readings = new ArrayList<>();
        for (LogQuantity quantity : LogQuantity.values()) {
            Sampled values = kept[quantity.ordinal()];
            if (values.seen() > 0) {
                double median = values.median();
                readings.add(new LogReading.Reading(
                        quantity,
                        quantity.unit(),
                        median,
                        Math.max(values.spread(median), quantity.step()),
                        values.seen()));
            }
        }
        states.add(new LogReading.State(kind, from, to, List.copyOf(readings), note()));
        if (states.size() > MOST_STATES) {
            states.remove(states.stream()
                    .min(Comparator.comparingDouble(state -> state.to() - state.from()))
                    .orElseThrow());
            dropped++;
        }
    }

    private Optional<String> note() {
        if (kind == Kind.IDLE) {
            return Optional.of(
                    seen[LogQuantity.COOLANT_TEMPERATURE.ordinal()]
                            ? "Coolant temperature is missing here, so warm or cold is not known."
                            : "No coolant temperature in this log, so warm or cold is not known.");
        }
        if (kind == Kind.WARM_UP) {
            return Optional.of(
                    "Engine speed and flow fall while the engine warms up; the medians are of the whole stretch.");
        }
        if (kind == Kind.KEY_ON && engineHasRun) {
            return Optional.of("The engine ran before this: an automatic stop looks the same.");
        }
        return Optional.empty();
    }

    /** What comes after has nothing to do with what was before. */
    void breakHere() {
        close();
        forget(strays);
        begin(null);
        lastTime = Double.NaN;
    }

    List<LogReading.State> states() {
        close();
        begin(null);
        return List.copyOf(states);
    }

    /** What could not be told for want of data, in whole sentences. */
    List<String> wants() {
        List<String> wants = new ArrayList<>();
        if (!seen[LogQuantity.ENGINE_SPEED.ordinal()]) {
            return List.of("No engine speed: no steady states but cruise can be told from this log.");
        }
        if (!seen[LogQuantity.VEHICLE_SPEED.ordinal()]) {
            wants.add(
                    "No vehicle speed: idle is taken from engine speed alone; cruise, and 2,500 rpm parked, are not told.");
        }
        if (!seen[LogQuantity.COOLANT_TEMPERATURE.ordinal()]) {
            wants.add("No coolant temperature: an idle cannot be called hot, and warming up is not told.");
        }
        boolean foot = seen[LogQuantity.PEDAL.ordinal()]
                || seen[LogQuantity.THROTTLE.ordinal()] && !diesel && !throttleOpenAtIdle;
        if (!foot) {
            wants.add("No accelerator pedal"
                    + (seen[LogQuantity.THROTTLE.ordinal()]
                            ? ", and the throttle of this engine" + " stands open at idle"
                            : " or throttle")
                    + ": wide open throttle is not told.");
        }
        if (usualStep > 0.5) {
            wants.add("One row every %.1f s: cranking is too short to be seen.".formatted(usualStep));
        }
        if (dropped > 0) {
            wants.add("More than " + MOST_STATES + " steady states: the " + dropped + " shortest are left out.");
        }
        return wants;
    }
}
