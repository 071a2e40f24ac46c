package idlewright.bench;

import idlewright.bench.Yardsticks.Yardstick;
import idlewright.bench.model.KeptReading;
import idlewright.bench.model.ReadingRows;
import idlewright.bench.rules.Catalogue;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.InstrumentKind;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.bench.rules.Procedure;
import idlewright.frame.NotFound;
import idlewright.frame.ReadOnce;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.VehicleView;
import idlewright.reference.units.Unit;
import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Reads measurements as records, one statement however many there are. */
@Component
class MeasurementReads {

    /** One measurement without its readings. */
    record Row(
            long id,
            TicketNumber ticket,
            List<Integer> places,
            String procedure,
            int procedureVersion,
            boolean after,
            String technician,
            @Nullable Long instrumentId,
            @Nullable String instrument,
            @Nullable LocalDate calibrationDue,
            @Nullable Double resolution,
            @Nullable String resolutionUnit,
            Conditions conditions,
            @Nullable String probes,
            Instant startedAt,
            @Nullable Instant finishedAt) {

        /** The last digit its instrument is listed with, in this unit; 0 where none is. */
        double lastDigit(Unit unit) {
            if (resolution == null || resolutionUnit == null) return 0;
            return Unit.of(resolutionUnit).filter(unit::equals).isPresent() ? resolution : 0;
        }

        boolean bearsOn(SymptomRef ref) {
            return ticket.equals(ref.ticket()) && places.contains(ref.place());
        }
    }

    /** The cause of a thread that was then proved, as its stamp names it. */
    record Found(String kind, String note, int times) {}

    /** The tests of a ticket, their readings, all that they are held against, and with which kinds of instrument more can be tested. */
    record Sheet(
            VehicleView vehicle,
            List<Row> tests,
            Map<Long, List<KeptReading>> readings,
            Yardstick yardstick,
            List<Procedure> own,
            Catalogue catalogue,
            List<Found> found,
            Set<InstrumentKind> instruments) {

        List<KeptReading> kept(Row test) {
            return readings.getOrDefault(test.id(), List.of());
        }

        Row test(long id) {
            return tests.stream()
                    .filter(test -> test.id() == id)
                    .findFirst()
                    .orElseThrow(() -> NotFound.of("test " + id));
        }

        /** As it was when the test was done by it; of the catalogue's there is only the one of today. */
        Optional<Procedure> procedure(Row test) {
            return Procedures.own(test.procedure())
                    ? own.stream()
                            .filter(each ->
                                    each.key().equals(test.procedure()) && each.version() == test.procedureVersion())
                            .findFirst()
                    : catalogue.procedure(test.procedure());
        }
    }

    private static final String SELECT = """
            select m.*, i.name instrument, i.calibration_due, i.resolution, i.resolution_unit,
                   (select array_agg(s.place order by s.place) from measurement_symptom s where s.measurement_id = m.id) places
            from measurement m left join instrument i on i.id = m.instrument_id""";

    private static final String OF_TICKET = SELECT + " where m.ticket_number = :ticket order by m.id";

    /** What was found on threads that were then proved, of the kinds that this ticket complains of. */
    private static final String LEARNED = """
            select c.kind, c.note, c.n from proved_tally c where c.kind in (:kinds) and c.n > 0""";

    private static final String LISTED = "select distinct i.kind from instrument i where i.retired_at is null";

    private record SheetOf(TicketNumber ticket) {}

    private final Together together;
    private final Catalogue catalogue;
    private final ReadOnce once;

    MeasurementReads(Together together, Catalogue catalogue, ReadOnce once) {
        this.together = together;
        this.catalogue = catalogue;
        this.once = once;
    }

    Row get(long id) {
        return together.read(Map.of("id", id), SELECT + " where m.id = :id").get(0).stream()
                .map(MeasurementReads::row)
                .findFirst()
                .orElseThrow(() -> NotFound.of("test " + id));
    }

    /** All that the bench knows of a ticket, in one statement. */
    Sheet sheet(TicketView ticket) {
        return once.of(new SheetOf(ticket.number()), () -> read(ticket));
    }

    private Sheet read(TicketView ticket) {
        var values = new HashMap<String, Object>();
        values.put("ticket", ticket.number().value());
        values.put("vehicle", ticket.vehicle().id());
        values.put("family", ticket.vehicle().engineFamily());
        List<String> kinds =
                ticket.symptoms().stream().map(SymptomView::kind).distinct().toList();
        values.put("kinds", kinds.isEmpty() ? List.of("") : kinds);
        var told = together.read(
                values,
                OF_TICKET,
                ReadingRows.OF_TICKET,
                Yardsticks.LIMITS,
                Yardsticks.GOOD,
                Procedures.OF_TICKET,
                LEARNED,
                LISTED);
        return new Sheet(
                ticket.vehicle(),
                told.get(0).stream().map(MeasurementReads::row).toList(),
                told.get(1).stream().map(ReadingRows::kept).collect(Collectors.groupingBy(KeptReading::measurementId)),
                Yardsticks.of(ticket.vehicle(), told.get(2), told.get(3)),
                told.get(4).stream().map(Procedures::procedure).toList(),
                catalogue,
                told.get(5).stream()
                        .map(r -> new Found(r.getString("kind"), r.getString("note"), r.getInt("n")))
                        .toList(),
                told.get(6).stream()
                        .map(r -> InstrumentKind.valueOf(r.getString("kind")))
                        .collect(Collectors.toSet()));
    }

    private static Row row(Tuple r) {
        String motion = r.getString("motion");
        return new Row(
                r.getLong("id"),
                new TicketNumber(r.getInt("ticket_number")),
                r.getInts("places"),
                r.getString("procedure_key"),
                r.getInt("procedure_version"),
                r.getBoolean("after_repair"),
                r.getString("technician"),
                r.getLongOrNull("instrument_id"),
                r.getString("instrument"),
                r.getDate("calibration_due"),
                number(r, "resolution"),
                r.getString("resolution_unit"),
                new Conditions(
                        KeyState.valueOf(r.getString("state")),
                        number(r, "rpm"),
                        number(r, "coolant_c"),
                        number(r, "intake_c"),
                        r.getString("gear"),
                        motion == null ? null : Motion.valueOf(motion),
                        r.getString("load"),
                        number(r, "barometer_kpa")),
                r.getString("probes"),
                r.getInstant("started_at"),
                r.getInstant("finished_at"));
    }

    private static @Nullable Double number(Tuple r, String column) {
        var number = r.getBigDecimal(column);
        return number == null ? null : number.doubleValue();
    }
}
