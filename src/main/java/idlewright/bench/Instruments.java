package idlewright.bench;

import idlewright.bench.model.Instrument;
import idlewright.bench.model.InstrumentRows;
import idlewright.bench.rules.InstrumentKind;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.journal.Journal;
import java.math.BigDecimal;
import java.time.Clock;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for the shop's instruments and what they promise. */
@Component
@Transactional
public class Instruments {

    /**
     * An instrument.
     *
     * @param percentOfReading and {@code digits}: plus or minus (a % of reading + b digits)
     * @param resolution the last digit in {@code resolutionUnit}; null where the decimals shown tell it
     */
    public record InstrumentView(
            long id,
            String name,
            InstrumentKind kind,
            BigDecimal percentOfReading,
            BigDecimal digits,
            @Nullable BigDecimal resolution,
            @Nullable String resolutionUnit,
            @Nullable LocalDate calibrationDue,
            boolean retired,
            int version) {

        /** "± (0.5 % + 2 digits)", "accuracy not noted". */
        public String accuracyWords() {
            if (percentOfReading.signum() == 0 && digits.signum() == 0) {
                return "accuracy not noted";
            }
            return "± (" + percentOfReading.stripTrailingZeros().toPlainString() + " % + "
                    + digits.stripTrailingZeros().toPlainString() + " digits)";
        }
    }

    /** What stands on the plate and in the papers of an instrument. */
    public record Telling(
            @Nullable String name,
            @Nullable InstrumentKind kind,
            @Nullable BigDecimal percentOfReading,
            @Nullable BigDecimal digits,
            @Nullable BigDecimal resolution,
            @Nullable String resolutionUnit,
            @Nullable LocalDate calibrationDue) {}

    private final InstrumentRows rows;
    private final Journal journal;
    private final Clock clock;

    Instruments(InstrumentRows rows, Journal journal, Clock clock) {
        this.rows = rows;
        this.journal = journal;
        this.clock = clock;
    }

    public long add(Telling telling) {
        var instrument = new Instrument(clock.instant());
        tell(instrument, telling);
        rows.saveAndFlush(instrument);
        journal.note(
                "instrument added",
                null,
                instrument.name() + " is among the instruments now.",
                Map.of("instrument", instrument.id()));
        return instrument.id();
    }

    public void amend(long id, int version, Telling telling) {
        Instrument instrument = row(id);
        if (instrument.version() != version) {
            throw new Stale(
                    instrument.name(),
                    List.of(new Stale.Clash("name", String.valueOf(telling.name()), instrument.name())),
                    "somebody at another terminal",
                    null,
                    "/set-up/instruments");
        }
        tell(instrument, telling);
        rows.saveAndFlush(instrument);
        journal.note(
                "instrument amended", null, instrument.name() + " was amended.", Map.of("instrument", instrument.id()));
    }

    public void retire(long id) {
        Instrument instrument = row(id);
        instrument.retire(clock.instant());
        rows.saveAndFlush(instrument);
        journal.note("instrument retired", null, instrument.name() + " is no longer used.", Map.of("instrument", id));
    }

    /** All of them, retired ones too. */
    @OnlyReads
    public List<InstrumentView> all() {
        return rows.byKind().stream().map(Instruments::view).toList();
    }

    /** Those in use of some kinds; of every kind when none is named. */
    @OnlyReads
    public List<InstrumentView> inUse(List<InstrumentKind> kinds) {
        return all().stream()
                .filter(each -> !each.retired() && (kinds.isEmpty() || kinds.contains(each.kind())))
                .toList();
    }

    @OnlyReads
    public InstrumentView get(long id) {
        return view(row(id));
    }

    private Instrument row(long id) {
        return rows.findById(id).orElseThrow(() -> NotFound.of("instrument " + id));
    }

    private static void tell(Instrument instrument, Telling t) {
        var problems = new LinkedHashMap<String, String>();
        if (t.name() == null || t.name().length() > 120)
            problems.put("name", "Give it a name, such as the one on its label.");
        if (t.kind() == null) problems.put("kind", "Choose what kind of instrument it is.");
        if (t.percentOfReading() != null
                && (t.percentOfReading().signum() < 0 || t.percentOfReading().compareTo(BigDecimal.valueOf(100)) > 0)) {
            problems.put("percentOfReading", "Enter 0 to 100 % of reading, as its papers say.");
        }
        if (t.digits() != null && (t.digits().signum() < 0 || t.digits().compareTo(BigDecimal.valueOf(1000)) > 0)) {
            problems.put("digits", "Enter a number of digits, such as 2.");
        }
        if ((t.resolution() == null) != (t.resolutionUnit() == null)) {
            problems.put("resolution", "Give the last digit with its unit, or neither.");
        } else if (t.resolution() != null && t.resolution().signum() <= 0) {
            problems.put("resolution", "The last digit is above zero, such as 0.01.");
        }
        Refused.ifAny(problems);
        instrument.tell(
                java.util.Objects.requireNonNull(t.name()),
                java.util.Objects.requireNonNull(t.kind()),
                t.percentOfReading() == null ? BigDecimal.ZERO : t.percentOfReading(),
                t.digits() == null ? BigDecimal.ZERO : t.digits(),
                t.resolution(),
                t.resolutionUnit(),
                t.calibrationDue());
    }

    private static InstrumentView view(Instrument i) {
        return new InstrumentView(
                i.id(),
                i.name(),
                i.kind(),
                i.percentOfReading(),
                i.digits(),
                i.resolution(),
                i.resolutionUnit(),
                i.calibrationDue(),
                i.retiredAt() != null,
                i.version());
    }
}
