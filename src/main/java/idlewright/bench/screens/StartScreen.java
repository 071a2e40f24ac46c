package idlewright.bench.screens;

import idlewright.bench.Bench;
import idlewright.bench.Instruments;
import idlewright.bench.MeasurementView;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.bench.rules.Procedure;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Shops;
import idlewright.reference.units.Typed;
import idlewright.reference.units.Unit;
import java.math.BigDecimal;
import java.time.Clock;
import java.time.Duration;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Before a test: its cautions, the instrument, and the conditions without which a reading is worth nothing. */
@Controller
@For({Role.TECHNICIAN, Role.OWNER})
class StartScreen {

    /** A warm engine cools slowly: what was noted this recently is offered again. */
    private static final Duration STILL_WARM = Duration.ofMinutes(30);

    /** What the technician typed. */
    record Form(
            @Nullable List<Integer> places,
            @Nullable String after,
            @Nullable Long instrument,
            @Nullable String state,
            @Nullable String rpm,
            @Nullable String coolant,
            @Nullable String intake,
            @Nullable String gear,
            @Nullable String motion,
            @Nullable String load,
            @Nullable String barometer,
            @Nullable String probes) {}

    private final Tickets tickets;
    private final Bench bench;
    private final Instruments instruments;
    private final Shops shops;
    private final Problems problems;
    private final Clock clock;

    StartScreen(Tickets tickets, Bench bench, Instruments instruments, Shops shops, Problems problems, Clock clock) {
        this.tickets = tickets;
        this.bench = bench;
        this.instruments = instruments;
        this.shops = shops;
        this.problems = problems;
        this.clock = clock;
    }

    @GetMapping("/bay/{ticket:\\d+}/tests/{procedure}")
    String blank(
            @PathVariable int ticket,
            @PathVariable String procedure,
            @RequestParam(required = false) @Nullable Integer place,
            @RequestParam(required = false) @Nullable String after,
            Model model) {
        TicketView view = tickets.get(new TicketNumber(ticket));
        model.addAttribute("form", sensible(view, bench.procedure(procedure), place, "true".equals(after)));
        return form(view, procedure, model);
    }

    @PostMapping("/bay/{ticket:\\d+}/tests/{procedure}")
    @For(Role.TECHNICIAN)
    String start(
            @PathVariable int ticket, @PathVariable String procedure, @ModelAttribute("form") Form form, Model model) {
        var number = new TicketNumber(ticket);
        try {
            var typing = new Typing();
            Unit warmth = warmth();
            Double rpm = read(typing, "rpm", form.rpm(), Unit.RPM, Unit.RPM);
            Double coolant = read(typing, "coolant", form.coolant(), warmth, Unit.CELSIUS);
            Double intake = read(typing, "intake", form.intake(), warmth, Unit.CELSIUS);
            Double barometer = read(typing, "barometer", form.barometer(), Unit.KILOPASCAL, Unit.KILOPASCAL);
            KeyState state = state(typing, form.state());
            typing.done();
            long id = bench.start(
                    number,
                    procedure,
                    "true".equals(form.after()),
                    form.places() == null ? List.of() : form.places(),
                    new Conditions(
                            state,
                            rpm,
                            coolant,
                            intake,
                            gear(form, state, tickets.get(number)),
                            motion(form.motion()),
                            form.load(),
                            barometer),
                    form.instrument(),
                    form.probes());
            return "redirect:/measurements/" + id;
        } catch (Refused no) {
            form(tickets.get(number), procedure, model);
            return problems.show(model, no, "bench/start");
        }
    }

    private String form(TicketView ticket, String key, Model model) {
        Procedure procedure = bench.procedure(key);
        var places = new LinkedHashMap<String, String>();
        ticket.symptoms().stream()
                .filter(symptom -> !symptom.ended())
                .forEach(symptom -> places.put(String.valueOf(symptom.place()), symptom.kindName()));
        var states = new LinkedHashMap<String, String>();
        Arrays.stream(KeyState.values()).forEach(state -> states.put(state.name(), state.words()));
        var kinds = new LinkedHashMap<String, String>();
        instruments.inUse(procedure.instruments()).forEach(each -> kinds.put(String.valueOf(each.id()), each.name()));
        model.addAttribute("ticket", ticket);
        model.addAttribute("car", Car.of(ticket));
        model.addAttribute("procedure", procedure);
        model.addAttribute("places", places);
        model.addAttribute("states", states);
        model.addAttribute("instruments", kinds);
        model.addAttribute("rest", rest(ticket));
        model.addAttribute("warmth", warmth().symbol());
        model.addAttribute("mended", ticket.symptoms().stream().anyMatch(s -> s.has(ThreadStamp.MENDED) && !s.ended()));
        return "bench/start";
    }

    /** The same conditions as before the repair, or those of the last half hour; a temperature is never made up. */
    private Form sensible(TicketView ticket, Procedure procedure, @Nullable Integer place, boolean after) {
        List<MeasurementView> tests = bench.of(ticket.number());
        Optional<MeasurementView> before = tests.stream()
                .filter(test -> after && !test.after() && test.procedure().equals(procedure.key()))
                .reduce((first, second) -> second);
        Optional<MeasurementView> recent = tests.stream()
                .filter(test -> test.conditions().coolantC() != null
                        && Duration.between(test.startedAt(), clock.instant()).compareTo(STILL_WARM) < 0)
                .reduce((first, second) -> second);
        Conditions like = before.map(MeasurementView::conditions).orElse(null);
        boolean running = procedure.state() == KeyState.RUNNING;
        List<Integer> open = ticket.symptoms().stream()
                .filter(symptom -> !symptom.ended() && (!after || symptom.has(ThreadStamp.MENDED)))
                .map(symptom -> symptom.place())
                .toList();
        List<Instruments.InstrumentView> fit = instruments.inUse(procedure.instruments());
        return new Form(
                place != null
                        ? List.of(place)
                        : open.size() == 1
                                ? open
                                : before.map(MeasurementView::places).orElse(List.of()),
                after ? "true" : null,
                fit.size() == 1 && !procedure.instruments().isEmpty()
                        ? Long.valueOf(fit.get(0).id())
                        : null,
                (like == null ? procedure.state() : like.state()).name(),
                like == null || like.rpm() == null ? null : typed(like.rpm()),
                recent.filter(test -> running)
                        .map(test -> typed(warmth().fromSi(
                                        Unit.CELSIUS.toSi(test.conditions().coolantC()))))
                        .orElse(null),
                null,
                like == null || rest(ticket).equals(like.gear()) ? null : like.gear(),
                like != null && like.motion() != null ? like.motion().name() : running ? Motion.PARKED.name() : null,
                like == null ? null : like.load(),
                recent.map(MeasurementView::conditions)
                        .map(Conditions::barometerKpa)
                        .map(StartScreen::typed)
                        .orElse(null),
                before.map(MeasurementView::probes).orElse(null));
    }

    /** The gear a parked car's engine runs in; never preset, for whoever then chose "driven" would write it down. */
    private static String rest(TicketView ticket) {
        return ticket.vehicle().gearbox().equals("AUTOMATIC") ? "P" : "N";
    }

    private static @Nullable String gear(Form form, KeyState state, TicketView ticket) {
        boolean said = form.gear() != null && !form.gear().isBlank();
        boolean parked = state == KeyState.RUNNING && motion(form.motion()) == Motion.PARKED;
        return said || !parked ? form.gear() : rest(ticket);
    }

    private Unit warmth() {
        return shops.shop().metric() ? Unit.CELSIUS : Unit.FAHRENHEIT;
    }

    private static String typed(double value) {
        return BigDecimal.valueOf(Math.round(value * 10) / 10.0)
                .stripTrailingZeros()
                .toPlainString();
    }

    /** A figure with or without its unit: "92", "198 °F", "29.9 inHg". */
    private static @Nullable Double read(
            Typing typing, String field, @Nullable String typed, Unit expected, Unit kept) {
        if (typed == null) {
            return null;
        }
        try {
            return kept.fromSi(Typed.meanings(typed, expected).get(0).si()).doubleValue();
        } catch (Typed.NotUnderstood e) {
            typing.wrong(field, e.getMessage() + ".");
            return null;
        }
    }

    private static KeyState state(Typing typing, @Nullable String typed) {
        for (KeyState state : KeyState.values()) if (state.name().equals(typed)) return state;
        typing.wrong("state", "Say what key and engine are doing.");
        return KeyState.KEY_OFF;
    }

    private static @Nullable Motion motion(@Nullable String typed) {
        for (Motion motion : Motion.values()) if (motion.name().equals(typed)) return motion;
        return null;
    }
}
