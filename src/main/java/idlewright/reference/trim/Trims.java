package idlewright.reference.trim;

import static idlewright.reference.trim.Suspect.ADAPTATION_NOT_RELEARNED;
import static idlewright.reference.trim.Suspect.AIR_FLOW_SENSOR_OVER_READS;
import static idlewright.reference.trim.Suspect.AIR_FLOW_SENSOR_UNDER_READS;
import static idlewright.reference.trim.Suspect.AIR_LEAK;
import static idlewright.reference.trim.Suspect.COOLANT_SENSOR_BIASED_COLD;
import static idlewright.reference.trim.Suspect.CRANKCASE_VENTILATION_LEAKING;
import static idlewright.reference.trim.Suspect.EXHAUST_LEAK_AHEAD_OF_SENSOR;
import static idlewright.reference.trim.Suspect.FUEL_PRESSURE_HIGH;
import static idlewright.reference.trim.Suspect.FUEL_PRESSURE_LOW;
import static idlewright.reference.trim.Suspect.INJECTOR_LEAKING;
import static idlewright.reference.trim.Suspect.INJECTOR_RESTRICTED;
import static idlewright.reference.trim.Suspect.MANIFOLD_PRESSURE_SENSOR_BIASED;
import static idlewright.reference.trim.Suspect.OXYGEN_SENSORS_CROSSED;
import static idlewright.reference.trim.Suspect.OXYGEN_SENSOR_BIASED;
import static idlewright.reference.trim.Suspect.PURGE_STUCK_OPEN;
import static idlewright.reference.trim.Suspect.VALVE_TIMING_SLIPPED;
import static idlewright.reference.trim.Suspect.WRONG_FUEL;

import idlewright.reference.trim.TrimPattern.Kind;
import idlewright.reference.trim.TrimSetting.FlowForLoad;
import idlewright.reference.trim.TrimSetting.Metering;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Reads fuel trims: totals by bank and band, and what their pattern points to. */
public final class Trims {

    /** A change from the lowest to the highest band that counts as a trend, percentage points. Common practice, no source. */
    private static final double TREND = 5;

    private Trims() {}

    /** Reads with the usual limits. */
    public static TrimReading read(List<BankTrims> banks, TrimSetting setting) {
        return read(banks, setting, TrimLimits.USUAL);
    }

    /**
     * Judges the totals and names the pattern.
     *
     * @param banks one or two banks, each once
     * @throws IllegalArgumentException for no bank, or one given twice
     */
    public static TrimReading read(List<BankTrims> banks, TrimSetting setting, TrimLimits limits) {
        Map<Integer, Map<TrimBand, Double>> totals = new TreeMap<>();
        for (BankTrims bank : banks) {
            Map<TrimBand, Double> byBand = new EnumMap<>(TrimBand.class);
            bank.byBand().forEach((band, trim) -> byBand.put(band, trim.totalPercent()));
            if (totals.put(bank.bank(), byBand) != null) {
                throw new IllegalArgumentException("bank %d is given twice".formatted(bank.bank()));
            }
        }
        if (totals.isEmpty()) {
            throw new IllegalArgumentException("trims of at least one bank are needed");
        }
        if (!setting.hotClosedLoop()) {
            return new TrimReading(
                    Judged.not(
                            Ground.COMMON_PRACTICE,
                            "Trims count only hot and in closed loop: warm the engine up and read them again."),
                    List.of());
        }
        List<TrimPattern> patterns = new ArrayList<>(patterns(totals, setting, limits));
        for (BankTrims bank : banks) {
            if (bank.byBand().values().stream().anyMatch(trim -> trim.fights(limits.suspectPercent()))) {
                patterns.add(new TrimPattern(
                        Kind.OLD_CORRECTION,
                        totals.size() == 1 ? 0 : bank.bank(),
                        "%s: short and long trim pull against each other. The long trim still holds a correction that is no"
                                        .formatted(of(totals, bank.bank()))
                                + " longer needed: reset or relearn before judging the repair.",
                        List.of(ADAPTATION_NOT_RELEARNED)));
            }
        }
        return new TrimReading(judge(totals, limits), patterns);
    }

    private static Judged judge(Map<Integer, Map<TrimBand, Double>> totals, TrimLimits limits) {
        double worst = totals.values().stream()
                .flatMap(byBand -> byBand.values().stream())
                .mapToDouble(Math::abs)
                .max()
                .orElseThrow();
        String sums = totals.entrySet().stream()
                .map(bank -> of(totals, bank.getKey()) + " " + spelled(bank.getValue()))
                .collect(Collectors.joining("; "));
        if (worst > limits.suspectPercent()) {
            return Judged.practice(
                    Verdict.OUTSIDE,
                    sums
                            + String.format(Locale.ROOT, ". Totals beyond %.0f %% are suspect", limits.suspectPercent())
                            + (worst > limits.severePercent() ? "; this far out a code usually sets." : "."));
        }
        if (worst > limits.normalPercent()) {
            return Judged.practice(
                    Verdict.TOO_CLOSE,
                    sums
                            + String.format(
                                    Locale.ROOT,
                                    ". Between %.0f and %.0f %% the trade does not agree.",
                                    limits.normalPercent(),
                                    limits.suspectPercent()));
        }
        return Judged.practice(
                Verdict.WITHIN, sums + String.format(Locale.ROOT, ". All within %.0f %%.", limits.normalPercent()));
    }

    private static List<TrimPattern> patterns(
            Map<Integer, Map<TrimBand, Double>> totals, TrimSetting setting, TrimLimits limits) {
        Map<Integer, Kind> shapes = new TreeMap<>();
        totals.forEach((bank, byBand) -> shape(byBand, limits).ifPresent(kind -> shapes.put(bank, kind)));
        if (shapes.isEmpty()) {
            return List.of();
        }
        if (totals.size() == 2 && opposed(totals, limits)) {
            return List.of(new TrimPattern(
                    Kind.BANKS_OPPOSED,
                    0,
                    "One bank is lean while the other is rich: the sensors may be crossed, or valve timing differs between"
                            + " the banks.",
                    List.of(OXYGEN_SENSORS_CROSSED, VALVE_TIMING_SLIPPED, OXYGEN_SENSOR_BIASED)));
        }
        if (totals.size() == 2 && shapes.size() == 1) {
            return shapes.entrySet().stream()
                    .map(each -> oneBank(each.getKey(), each.getValue(), totals.getOrDefault(each.getKey(), Map.of())))
                    .toList();
        }
        if (totals.size() == 2 && shapes.get(1) != shapes.get(2)) {
            return shapes.entrySet().stream()
                    .map(each -> common(each.getKey(), "Bank %d is".formatted(each.getKey()), each.getValue(), setting))
                    .toList();
        }
        String who = totals.size() == 2 ? "Both banks are" : "The engine is";
        return List.of(common(0, who, shapes.values().iterator().next(), setting));
    }

    /** The shape of one bank, or nothing when no total is beyond the limit. */
    private static Optional<Kind> shape(Map<TrimBand, Double> byBand, TrimLimits limits) {
        double suspect = limits.suspectPercent();
        boolean lean = byBand.values().stream().anyMatch(total -> total > suspect);
        boolean rich = byBand.values().stream().anyMatch(total -> total < -suspect);
        if (!lean && !rich) {
            return Optional.empty();
        }
        if (byBand.size() == 1) {
            return Optional.of(Kind.ONE_POINT);
        }
        List<Double> rising = List.copyOf(byBand.values());
        double trend = rising.get(rising.size() - 1) - rising.get(0);
        if (lean && rich) {
            return Optional.of(trend > 0 ? Kind.RICH_AT_IDLE_LEAN_WITH_LOAD : Kind.LEAN_AT_IDLE_RICH_WITH_LOAD);
        }
        if (Math.abs(trend) < TREND) {
            return Optional.of(lean ? Kind.LEAN_THROUGHOUT : Kind.RICH_THROUGHOUT);
        }
        if (lean) {
            return Optional.of(trend > 0 ? Kind.LEAN_WITH_LOAD : Kind.LEAN_AT_IDLE);
        }
        return Optional.of(trend > 0 ? Kind.RICH_AT_IDLE : Kind.RICH_WITH_LOAD);
    }

    private static boolean opposed(Map<Integer, Map<TrimBand, Double>> totals, TrimLimits limits) {
        return Stream.of(TrimBand.values()).anyMatch(band -> {
            Double one = totals.getOrDefault(1, Map.of()).get(band);
            Double two = totals.getOrDefault(2, Map.of()).get(band);
            return one != null
                    && two != null
                    && one * two < 0
                    && Math.min(Math.abs(one), Math.abs(two)) > limits.suspectPercent();
        });
    }

    private static TrimPattern oneBank(int bank, Kind kind, Map<TrimBand, Double> byBand) {
        boolean lean = byBand.values().stream().mapToDouble(Double::doubleValue).sum() > 0;
        return new TrimPattern(
                kind,
                bank,
                "Only bank %d is %s, so the fault is on that bank: fuel pressure and the common air path serve both."
                        .formatted(bank, lean ? "lean" : "rich"),
                lean
                        ? List.of(
                                kind == Kind.LEAN_AT_IDLE ? AIR_LEAK : INJECTOR_RESTRICTED,
                                kind == Kind.LEAN_AT_IDLE ? INJECTOR_RESTRICTED : AIR_LEAK,
                                EXHAUST_LEAK_AHEAD_OF_SENSOR,
                                OXYGEN_SENSOR_BIASED,
                                VALVE_TIMING_SLIPPED)
                        : List.of(INJECTOR_LEAKING, OXYGEN_SENSOR_BIASED, VALVE_TIMING_SLIPPED));
    }

    private static TrimPattern common(int bank, String who, Kind kind, TrimSetting setting) {
        boolean weighed = setting.metering() == Metering.MASS_AIR_FLOW;
        Suspect underReads = weighed ? AIR_FLOW_SENSOR_UNDER_READS : MANIFOLD_PRESSURE_SENSOR_BIASED;
        Suspect overReads = weighed ? AIR_FLOW_SENSOR_OVER_READS : MANIFOLD_PRESSURE_SENSOR_BIASED;
        return switch (kind) {
            case LEAN_AT_IDLE ->
                weighed
                        ? pattern(
                                kind,
                                bank,
                                who
                                        + " lean at idle and better with more air: air that was not measured, a leak, whose share"
                                        + " shrinks as flow grows.",
                                AIR_LEAK,
                                CRANKCASE_VENTILATION_LEAKING,
                                EXHAUST_LEAK_AHEAD_OF_SENSOR)
                        : pattern(
                                kind,
                                bank,
                                who
                                        + " lean at idle and better above. This engine meters by manifold pressure, where an air"
                                        + " leak raises idle speed rather than leans.",
                                MANIFOLD_PRESSURE_SENSOR_BIASED,
                                EXHAUST_LEAK_AHEAD_OF_SENSOR,
                                INJECTOR_RESTRICTED);
            case LEAN_WITH_LOAD -> leanWithLoad(bank, who, underReads, setting.flow());
            case LEAN_THROUGHOUT ->
                pattern(
                        kind,
                        bank,
                        who
                                + " lean everywhere alike: fuel delivery, the air reading, or the sensor that reports lean.",
                        FUEL_PRESSURE_LOW,
                        underReads,
                        OXYGEN_SENSOR_BIASED,
                        WRONG_FUEL);
            case RICH_AT_IDLE ->
                pattern(
                        kind,
                        bank,
                        who
                                + " rich at idle and better above: fuel that was not asked for, or air over-read at low flow.",
                        INJECTOR_LEAKING,
                        PURGE_STUCK_OPEN,
                        overReads,
                        FUEL_PRESSURE_HIGH);
            case RICH_WITH_LOAD ->
                pattern(
                        kind,
                        bank,
                        who + " richer the more air it draws: the air reading is too high, or fuel pressure is.",
                        overReads,
                        FUEL_PRESSURE_HIGH);
            case RICH_THROUGHOUT ->
                pattern(
                        kind,
                        bank,
                        who
                                + " rich everywhere alike: too much pressure, a leak of fuel, or a sensor that asks for fuel.",
                        FUEL_PRESSURE_HIGH,
                        INJECTOR_LEAKING,
                        PURGE_STUCK_OPEN,
                        overReads,
                        OXYGEN_SENSOR_BIASED,
                        COOLANT_SENSOR_BIASED_COLD);
            case RICH_AT_IDLE_LEAN_WITH_LOAD ->
                pattern(
                        kind,
                        bank,
                        who
                                + " rich at idle and lean with load: a dirty air sensor reads high at low flow and low at high"
                                + " flow.",
                        underReads,
                        PURGE_STUCK_OPEN,
                        FUEL_PRESSURE_LOW);
            case LEAN_AT_IDLE_RICH_WITH_LOAD ->
                pattern(
                        kind,
                        bank,
                        who + " lean at idle and rich with load: two faults, or a wrong air sensor or tract.",
                        overReads,
                        AIR_LEAK,
                        FUEL_PRESSURE_HIGH);
            case ONE_POINT ->
                pattern(
                        kind,
                        bank,
                        who + " beyond the limit, but was read in one band only: read idle and 2,500 rpm too.");
            case BANKS_OPPOSED, OLD_CORRECTION -> throw new AssertionError(kind);
        };
    }

    private static TrimPattern leanWithLoad(int bank, String who, Suspect underReads, FlowForLoad flow) {
        String lean = who + " leaner the more air it draws";
        return switch (flow) {
            case LOW ->
                pattern(
                        Kind.LEAN_WITH_LOAD,
                        bank,
                        lean + ", and the airflow is low for the load: the sensor under-reads.",
                        underReads);
            case NORMAL ->
                pattern(
                        Kind.LEAN_WITH_LOAD,
                        bank,
                        lean + ", and the airflow is normal: fuel does not keep up.",
                        FUEL_PRESSURE_LOW,
                        INJECTOR_RESTRICTED);
            case NOT_READ ->
                pattern(
                        Kind.LEAN_WITH_LOAD,
                        bank,
                        lean + ": the air reading or the fuel supply. Airflow against load tells them apart.",
                        underReads,
                        FUEL_PRESSURE_LOW,
                        INJECTOR_RESTRICTED);
        };
    }

    private static TrimPattern pattern(Kind kind, int bank, String words, Suspect... suspects) {
        return new TrimPattern(kind, bank, words, Stream.of(suspects).distinct().toList());
    }

    private static String of(Map<Integer, ?> totals, int bank) {
        return totals.size() == 1 ? "Total trim" : "Bank " + bank;
    }

    private static String spelled(Map<TrimBand, Double> byBand) {
        return byBand.entrySet().stream()
                .map(each ->
                        String.format(Locale.ROOT, "%s %+.1f %%", each.getKey().words(), each.getValue()))
                .collect(Collectors.joining(", "));
    }
}
