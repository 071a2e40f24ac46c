package idlewright.bench;

import idlewright.bench.rules.Conditions;
import idlewright.intake.TicketNumber;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * A test with its readings.
 *
 * @param edition of the procedure this test was begun by
 * @param instrument name of the instrument, null where none was named
 * @param remark what must be known of the instrument or the procedure; may be empty
 * @param readings those that count and what follows from them, in the order of the procedure
 * @param struck readings that were corrected
 * @param outcomes what it shows, in words
 * @param missing labels of readings still to take
 */
public record MeasurementView(
        long id,
        TicketNumber ticket,
        List<Integer> places,
        String procedure,
        int edition,
        String procedureName,
        boolean after,
        String technician,
        Instant startedAt,
        @Nullable Instant finishedAt,
        Conditions conditions,
        @Nullable String probes,
        @Nullable String instrument,
        String remark,
        List<ReadingView> readings,
        List<ReadingView> struck,
        List<String> outcomes,
        List<String> missing) {

    public boolean finished() {
        return finishedAt != null;
    }

    /** Those that carry a verdict; all where none does. */
    public List<ReadingView> keyReadings() {
        List<ReadingView> judged = readings.stream().filter(ReadingView::judged).toList();
        return judged.isEmpty() ? readings : judged;
    }

    /** The reading that counts at one place of a point. */
    public Optional<ReadingView> reading(String point, int spot) {
        return readings.stream()
                .filter(reading -> reading.id() != 0 && reading.point().equals(point) && reading.spot() == spot)
                .findFirst();
    }

    /** "running, 2,500 rpm, coolant 92 °C, parked, in N". */
    public String conditionWords() {
        var words = new ArrayList<String>();
        words.add(conditions.state().words());
        if (conditions.rpm() != null) words.add(String.format(Locale.ROOT, "%,.0f rpm", conditions.rpm()));
        if (conditions.coolantC() != null) words.add("coolant " + degrees(conditions.coolantC()));
        if (conditions.intakeAirC() != null) words.add("intake air " + degrees(conditions.intakeAirC()));
        if (conditions.motion() != null) words.add(conditions.motion().words());
        if (conditions.gear() != null) words.add("gear " + conditions.gear());
        if (conditions.load() != null) words.add(conditions.load());
        if (conditions.barometerKpa() != null) {
            words.add(String.format(Locale.ROOT, "air pressure %.1f kPa", conditions.barometerKpa()));
        }
        if (probes != null) words.add("probes " + probes);
        return String.join(", ", words);
    }

    private static String degrees(double celsius) {
        return String.format(Locale.ROOT, "%.0f °C (%.0f °F)", celsius, celsius * 9 / 5 + 32);
    }
}
