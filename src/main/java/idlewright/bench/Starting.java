package idlewright.bench;

import idlewright.bench.model.InstrumentRows;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.bench.rules.Need;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.frame.Refused;
import idlewright.intake.TicketView;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Whether a test may begin: a reading without its conditions is worth nothing, so they are asked for first. */
@Component
class Starting {

    private final InstrumentRows instruments;

    Starting(InstrumentRows instruments) {
        this.instruments = instruments;
    }

    void check(
            TicketView ticket,
            Procedure procedure,
            boolean after,
            List<Integer> places,
            Conditions conditions,
            @Nullable Long instrumentId) {
        if (ticket.has(TicketStamp.HANDED_BACK)) {
            throw Refused.because("The car of ticket " + ticket.number() + " was handed back: open a new ticket.");
        }
        var problems = new LinkedHashMap<String, String>();
        if (places.isEmpty()) {
            problems.put("places", "Choose the symptom this test bears on.");
        }
        places.forEach(ticket::symptom);
        if (after && !places.stream().allMatch(place -> ticket.symptom(place).has(ThreadStamp.MENDED))) {
            problems.put("after", "A test after the repair needs the repair recorded first.");
        }
        instrument(procedure, instrumentId, problems);
        conditions(ticket, procedure, conditions, problems);
        Refused.ifAny(problems);
    }

    private void instrument(Procedure procedure, @Nullable Long instrumentId, LinkedHashMap<String, String> problems) {
        if (instrumentId == null) {
            return;
        }
        var instrument = instruments.findById(instrumentId).orElse(null);
        if (instrument == null || instrument.retiredAt() != null) {
            problems.put("instrument", "Choose an instrument that is in use.");
        } else if (!procedure.instruments().isEmpty()
                && !procedure.instruments().contains(instrument.kind())) {
            problems.put(
                    "instrument",
                    instrument.name() + " is a " + instrument.kind().words() + "; this test wants a "
                            + String.join(
                                    " or ",
                                    procedure.instruments().stream()
                                            .map(kind -> kind.words())
                                            .toList())
                            + ".");
        }
    }

    private static void conditions(
            TicketView ticket, Procedure procedure, Conditions conditions, LinkedHashMap<String, String> problems) {
        between(problems, "rpm", conditions.rpm(), 0, 12_000, "rpm");
        between(problems, "coolant", conditions.coolantC(), -50, 160, "°C");
        between(problems, "intake", conditions.intakeAirC(), -50, 120, "°C");
        between(problems, "barometer", conditions.barometerKpa(), 50, 110, "kPa");
        if (procedure.needs().contains(Need.HOT)) {
            if (conditions.coolantC() == null) {
                problems.putIfAbsent(
                        "coolant",
                        "This test is read on a hot engine: enter the coolant temperature, "
                                + degrees(Conditions.OPERATING_TEMPERATURE_C) + " or more.");
            } else if (conditions.coolantC() < Conditions.OPERATING_TEMPERATURE_C) {
                problems.putIfAbsent(
                        "coolant",
                        "At " + degrees(conditions.coolantC()) + " the engine is not hot yet: warm it up to "
                                + degrees(Conditions.OPERATING_TEMPERATURE_C) + ", then read.");
            }
        }
        if (conditions.state() == KeyState.RUNNING) {
            if (conditions.motion() == null) {
                problems.put("motion", "Say whether the car stands or is driven.");
            }
            if (conditions.rpm() == null && !saysItsSpeed(procedure)) {
                problems.putIfAbsent(
                        "rpm", "Enter the engine speed this is read at: without it nothing can be compared later.");
            }
        }
        boolean driven =
                conditions.motion() == Motion.DRIVEN || procedure.needs().contains(Need.ROAD);
        if (driven && ticket.roadTest().equals("NO")) {
            problems.put("motion", "The customer gave no leave to drive this car on the road.");
        }
    }

    private static String degrees(double celsius) {
        return String.format(Locale.ROOT, "%.0f °C (%.0f °F)", celsius, celsius * 9 / 5 + 32);
    }

    /** Numbers taken at a named place, such as idle, carry their speed themselves; what is only looked at needs none. */
    private static boolean saysItsSpeed(Procedure procedure) {
        return procedure.toRead().stream()
                .filter(point -> point.kind() == Point.Kind.NUMBER && !point.optional() && point.assumed() == null)
                .allMatch(point -> !point.at().isEmpty() || point.rpm() != null);
    }

    private static void between(
            LinkedHashMap<String, String> problems,
            String field,
            @Nullable Double value,
            double low,
            double high,
            String unit) {
        if (value != null && !(value >= low && value <= high)) {
            problems.put(
                    field, String.format(Locale.ROOT, "Enter a figure between %,.0f and %,.0f %s.", low, high, unit));
        }
    }
}
