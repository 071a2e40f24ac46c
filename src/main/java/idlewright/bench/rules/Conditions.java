package idlewright.bench.rules;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The circumstances a test was taken under; what was not noted is null.
 *
 * @param coolantC coolant in degrees Celsius
 * @param intakeAirC intake air in degrees Celsius
 * @param gear as the technician named it: "P", "N", "D", "3"
 * @param load what the engine had to drive, in the technician's words: "accessories off"
 * @param barometerKpa absolute air pressure in kPa
 */
public record Conditions(
        KeyState state,
        @Nullable Double rpm,
        @Nullable Double coolantC,
        @Nullable Double intakeAirC,
        @Nullable String gear,
        @Nullable Motion motion,
        @Nullable String load,
        @Nullable Double barometerKpa) {

    /** From here on an engine counts as warmed through (common practice, no source). */
    public static final double OPERATING_TEMPERATURE_C = 75;

    private static final double RPM_SHARE = 0.05;
    private static final double COLD_APART_C = 10;
    private static final double INTAKE_APART_C = 20;
    private static final double BAROMETER_APART_KPA = 3;

    /** What stands between two tests; without differences they may be compared. */
    public record Comparison(List<String> differences, List<String> notes) {
        public Comparison {
            differences = List.copyOf(differences);
            notes = List.copyOf(notes);
        }

        public boolean matching() {
            return differences.isEmpty();
        }
    }

    /** Compares the conditions before and after a repair; notes are worth reading but forbid nothing. */
    public static Comparison compare(Conditions before, Conditions after) {
        var differences = new ArrayList<String>();
        var notes = new ArrayList<String>();
        if (before.state != after.state) {
            differences.add("before: " + before.state.words() + ", after: " + after.state.words());
        }
        boolean running = before.state == KeyState.RUNNING && after.state == KeyState.RUNNING;
        if (running) {
            compareRpm(before.rpm, after.rpm, differences);
            compareCoolant(before.coolantC, after.coolantC, differences);
            compareWords("gear", before.gear, after.gear, differences);
            compareWords("load", before.load, after.load, differences);
        }
        if (before.motion != null && after.motion != null && before.motion != after.motion) {
            differences.add("before: " + before.motion.words() + ", after: " + after.motion.words());
        }
        apart("intake air", before.intakeAirC, after.intakeAirC, INTAKE_APART_C, "°C", notes);
        apart("air pressure", before.barometerKpa, after.barometerKpa, BAROMETER_APART_KPA, "kPa", notes);
        return new Comparison(differences, notes);
    }

    private static void compareRpm(@Nullable Double before, @Nullable Double after, List<String> differences) {
        if (before == null && after == null) return;
        if (before == null || after == null) {
            differences.add("the engine speed was not noted " + (before == null ? "before" : "after"));
        } else if (Math.abs(after - before) > RPM_SHARE * before + 1e-9) {
            differences.add("engine speed " + Figures.plain(before) + " rpm before, " + Figures.plain(after)
                    + " rpm after: more than 5 % apart");
        }
    }

    private static void compareCoolant(@Nullable Double before, @Nullable Double after, List<String> differences) {
        if (before == null || after == null) {
            differences.add("the coolant temperature was not noted "
                    + (before == null && after == null ? "at all" : before == null ? "before" : "after"));
            return;
        }
        boolean hotBefore = before >= OPERATING_TEMPERATURE_C;
        boolean hotAfter = after >= OPERATING_TEMPERATURE_C;
        if (hotBefore != hotAfter || (!hotBefore && Math.abs(after - before) > COLD_APART_C)) {
            differences.add("coolant " + Figures.plain(before) + " °C before, " + Figures.plain(after)
                    + " °C after: not the same warmth");
        }
    }

    private static void compareWords(
            String what, @Nullable String before, @Nullable String after, List<String> differences) {
        String first = before == null ? "" : before.strip();
        String second = after == null ? "" : after.strip();
        if (!first.equalsIgnoreCase(second)) {
            differences.add(what + " " + (first.isEmpty() ? "not noted" : first) + " before, "
                    + (second.isEmpty() ? "not noted" : second) + " after");
        }
    }

    private static void apart(
            String what,
            @Nullable Double before,
            @Nullable Double after,
            double most,
            String unit,
            List<String> notes) {
        if (before != null && after != null && Math.abs(after - before) > most) {
            notes.add(what + " " + Figures.plain(before) + " " + unit + " before, " + Figures.plain(after) + " " + unit
                    + " after");
        }
    }
}
