package idlewright.bench;

import idlewright.bench.Bench.Read;
import idlewright.bench.MeasurementReads.Row;
import idlewright.bench.model.Instrument;
import idlewright.bench.model.InstrumentRows;
import idlewright.bench.model.KeptReading;
import idlewright.bench.model.KeptReading.Stood;
import idlewright.bench.rules.Accuracy;
import idlewright.bench.rules.Entry;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.bench.rules.Refusal;
import idlewright.bench.rules.Series;
import idlewright.bench.rules.Side;
import idlewright.frame.Refused;
import idlewright.reference.codes.TroubleCode;
import idlewright.reference.units.Quantity;
import idlewright.reference.units.Typed;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Makes a reading of what was typed, or says beside the field why it cannot be one. */
@Component
class Typist {

    private static final Stood NOT_YET = new Stood(Verdict.NOT_JUDGED, Side.NONE, "", null);

    private final Procedures procedures;
    private final InstrumentRows instruments;

    Typist(Procedures procedures, InstrumentRows instruments) {
        this.procedures = procedures;
        this.instruments = instruments;
    }

    KeptReading take(Row row, Read read, String who, Instant at) {
        return taken(row, read, null, null, who, at);
    }

    KeptReading correction(Row row, KeptReading old, Read read, String reason, String who, Instant at) {
        return taken(row, read, old.id(), reason, who, at);
    }

    KeptReading take(Row row, String point, Series series, @Nullable Long exhibit, String who, Instant at) {
        Point asked = point(row, point, 0);
        if (asked.kind() != Point.Kind.SERIES) {
            throw Refused.at("typed", asked.label() + " is not a series.");
        }
        return series(row, new Read(point, series.size() + " points", null), series, exhibit, null, null, who, at);
    }

    private KeptReading taken(
            Row row, Read read, @Nullable Long replaces, @Nullable String reason, String who, Instant at) {
        Point point = point(row, read.point(), read.spot());
        String typed = read.typed();
        if (typed == null || typed.isBlank()) {
            throw Refused.at(
                    "typed",
                    switch (point.kind()) {
                        case NUMBER -> "Enter what the instrument shows.";
                        case CHOICE -> "Choose what you saw.";
                        case CODES -> "Enter the codes, or press No codes.";
                        case SERIES -> "Paste the two columns of the recording.";
                    });
        }
        return switch (point.kind()) {
            case NUMBER -> number(row, point, read, typed, replaces, reason, who, at);
            case CHOICE -> {
                if (point.choice(typed).isEmpty()) throw Refused.at("typed", "Choose one of the answers on the page.");
                yield kept(
                        row,
                        read,
                        point,
                        typed,
                        null,
                        null,
                        List.of(typed),
                        null,
                        null,
                        Accuracy.unknown(),
                        read.note(),
                        false,
                        at,
                        who,
                        replaces,
                        reason);
            }
            case CODES -> {
                List<String> codes;
                try {
                    codes = typed.strip().equalsIgnoreCase("none")
                            ? List.of()
                            : TroubleCode.parseAll(typed).stream()
                                    .map(TroubleCode::text)
                                    .toList();
                } catch (IllegalArgumentException notACode) {
                    throw Refused.at("typed", String.valueOf(notACode.getMessage()));
                }
                yield kept(
                        row,
                        read,
                        point,
                        typed,
                        null,
                        null,
                        codes,
                        null,
                        null,
                        Accuracy.unknown(),
                        read.note(),
                        false,
                        at,
                        who,
                        replaces,
                        reason);
            }
            case SERIES -> {
                try {
                    String unit = read.unit() == null ? "s" : read.unit();
                    yield series(
                            row,
                            read,
                            Series.pasted(typed, across(unit), unit, point.label(), ""),
                            null,
                            replaces,
                            reason,
                            who,
                            at);
                } catch (Refusal no) {
                    throw Refused.at("typed", String.valueOf(no.getMessage()));
                }
            }
        };
    }

    private static String across(String unit) {
        return switch (unit) {
            case "s" -> "time";
            case "rpm" -> "engine speed";
            default -> "position";
        };
    }

    private KeptReading number(
            Row row,
            Point point,
            Read read,
            String typed,
            @Nullable Long replaces,
            @Nullable String reason,
            String who,
            Instant at) {
        Quantity quantity;
        try {
            Unit expected = read.unit() == null
                    ? point.unit()
                    : Unit.of(read.unit())
                            .orElseThrow(() -> Refused.at("unit", "Choose one of the units on the page."));
            List<Quantity> meanings = Entry.likelierFirst(point, Typed.meanings(typed, expected));
            Optional<Quantity> meant = Entry.meant(point, meanings);
            if (meant.isEmpty() && !read.confirmed()) {
                throw Refused.at("confirmed", Entry.whichIsMeant(typed, meanings));
            }
            quantity = meant.orElse(meanings.get(0));
        } catch (Typed.NotUnderstood e) {
            throw Refused.at(
                    "typed", e.getMessage() + (String.valueOf(e.getMessage()).endsWith(".") ? "" : "."));
        }
        String note = read.note();
        BigDecimal value = quantity.value();
        boolean confirmed = false;
        Entry entry = Entry.of(point, value.doubleValue(), quantity.unit());
        if (entry instanceof Entry.Refused no) {
            throw Refused.at("typed", no.words());
        }
        if (entry instanceof Entry.Asked asked) {
            if (!read.confirmed()) {
                throw Refused.at("confirmed", asked.question());
            }
            confirmed = true;
        }
        if (Entry.probesReversed(point, value.doubleValue(), quantity.unit())) {
            value = value.negate();
            note = note == null ? Entry.PROBES_REVERSED : note + " " + Entry.PROBES_REVERSED;
        }
        Accuracy accuracy = accuracy(row, value, quantity.unit());
        return kept(
                row,
                read,
                point,
                typed.strip(),
                value,
                quantity.unit(),
                List.of(),
                null,
                null,
                accuracy,
                note,
                confirmed,
                at,
                who,
                replaces,
                reason);
    }

    private KeptReading series(
            Row row,
            Read read,
            Series series,
            @Nullable Long exhibit,
            @Nullable Long replaces,
            @Nullable String reason,
            String who,
            Instant at) {
        Point point = point(row, read.point(), read.spot());
        List<String> marks = Sweeps.marks(series).stream().map(Enum::name).toList();
        return kept(
                row,
                read,
                point,
                series.size() + " points",
                null,
                null,
                marks,
                series,
                exhibit,
                Accuracy.unknown(),
                read.note(),
                false,
                at,
                who,
                replaces,
                reason);
    }

    /** What the instrument promises; its last digit is the one typed, unless its papers name one. */
    private Accuracy accuracy(Row row, BigDecimal value, Unit unit) {
        double lastDigit = Math.min(1, Math.pow(10, -value.scale()));
        if (row.instrumentId() == null) {
            return new Accuracy(0, 0, lastDigit);
        }
        Instrument instrument = instruments.findById(row.instrumentId()).orElseThrow();
        Unit printed = instrument.resolutionUnit() == null
                ? null
                : Unit.of(instrument.resolutionUnit()).orElse(null);
        if (instrument.resolution() != null && printed == unit) {
            lastDigit = Math.max(lastDigit, instrument.resolution().doubleValue());
        }
        return new Accuracy(
                instrument.percentOfReading().doubleValue(), instrument.digits().doubleValue(), lastDigit);
    }

    private Point point(Row row, String key, int spot) {
        Procedure procedure = procedures
                .find(row.procedure(), row.procedureVersion())
                .orElseThrow(() -> Refused.because("The catalogue no longer has this procedure: start another test."));
        Point point = procedure
                .point(key)
                .filter(each -> !each.isDerived())
                .orElseThrow(() -> Refused.at("typed", procedure.name() + " has no such reading."));
        if ((point.per() == Point.Per.ONCE) != (spot == 0) || spot < 0 || spot > 24) {
            throw Refused.at(
                    "typed",
                    "Say which "
                            + (point.per() == Point.Per.ONCE
                                    ? "reading"
                                    : point.per().words()) + " this is.");
        }
        return point;
    }

    private static KeptReading kept(
            Row row,
            Read read,
            Point point,
            String typed,
            @Nullable BigDecimal value,
            @Nullable Unit unit,
            List<String> seen,
            @Nullable Series series,
            @Nullable Long exhibit,
            Accuracy accuracy,
            @Nullable String note,
            boolean confirmed,
            Instant at,
            String who,
            @Nullable Long replaces,
            @Nullable String reason) {
        return new KeptReading(
                0,
                row.id(),
                point.key(),
                read.spot(),
                point.kind(),
                typed,
                value,
                unit,
                seen,
                series,
                exhibit,
                accuracy,
                NOT_YET,
                note,
                confirmed,
                at,
                who,
                replaces,
                reason,
                null);
    }
}
