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
import java.util.ArrayList;
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
            @Nullable String probes,
            @Nullable String same) {}

    /**
     * What was noted before the repair, beside the fields of the test after it: it says what to bring about, and is not taken
     * for what is there now.
     *
     * @param same gear, place, load and probes in words; empty where none was noted
     */
    record Then(
            String same,
            @Nullable String rpm,
            @Nullable String coolant,
            @Nullable String intake,
            @Nullable String barometer) {}

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
        model.addAttribute("then", "true".equals(after) ? then(view, procedure) : null);
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
            boolean after = "true".equals(form.after());
            TicketView ticketView = tickets.get(number);
            Optional<MeasurementView> before =
                    after ? before(ticketView, bench.procedure(procedure)) : Optional.empty();
            if (state == KeyState.RUNNING) {
                before.map(MeasurementView::conditions).ifPresent(then -> saidAgain(then, form, typing));
            }
            typing.done();
            Optional<MeasurementView> alike = before.filter(test -> "true".equals(form.same()));
            long id = bench.start(
                    number,
                    procedure,
                    after,
                    form.places() == null ? List.of() : form.places(),
                    new Conditions(
                            state,
                            rpm,
                            coolant,
                            intake,
                            gear(form, state, ticketView, alike),
                            motion(form, alike),
                            said(
                                    form.load(),
                                    alike.map(MeasurementView::conditions).map(Conditions::load)),
                            barometer),
                    form.instrument(),
                    said(form.probes(), alike.map(MeasurementView::probes)));
            return "redirect:/measurements/" + id;
        } catch (Refused no) {
            form(tickets.get(number), procedure, model);
            model.addAttribute("then", "true".equals(form.after()) ? then(tickets.get(number), procedure) : null);
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
        model.addAttribute("mended", mended(ticket));
        return "bench/start";
    }

    /**
     * What is still so a half hour later is offered again. After a repair nothing is: a proof compares the conditions of two
     * tests, and what nobody said would compare alike by itself.
     */
    private Form sensible(TicketView ticket, Procedure procedure, @Nullable Integer place, boolean after) {
        Optional<MeasurementView> before = after ? before(ticket, procedure) : Optional.empty();
        boolean mended = mended(ticket);
        Optional<MeasurementView> recent = bench.of(ticket.number()).stream()
                .filter(test -> !mended
                        && test.conditions().coolantC() != null
                        && Duration.between(test.startedAt(), clock.instant()).compareTo(STILL_WARM) < 0)
                .reduce((first, second) -> second);
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
                procedure.state().name(),
                null,
                recent.filter(test -> running)
                        .map(MeasurementView::conditions)
                        .map(Conditions::coolantC)
                        .map(this::warmth)
                        .orElse(null),
                null,
                null,
                running && !mended ? Motion.PARKED.name() : null,
                null,
                recent.map(MeasurementView::conditions)
                        .map(Conditions::barometerKpa)
                        .map(StartScreen::typed)
                        .orElse(null),
                null,
                null);
    }

    private static boolean mended(TicketView ticket) {
        return ticket.symptoms().stream().anyMatch(symptom -> symptom.has(ThreadStamp.MENDED) && !symptom.ended());
    }

    /** The last time this was tested before the repair. */
    private Optional<MeasurementView> before(TicketView ticket, Procedure procedure) {
        return bench.of(ticket.number()).stream()
                .filter(test -> !test.after() && test.procedure().equals(procedure.key()))
                .reduce((first, second) -> second);
    }

    private @Nullable Then then(TicketView ticket, String procedure) {
        return before(ticket, bench.procedure(procedure))
                .map(test -> {
                    Conditions noted = test.conditions();
                    var words = new ArrayList<String>();
                    if (noted.motion() != null) words.add(noted.motion().words());
                    if (noted.gear() != null) words.add("gear " + noted.gear());
                    if (noted.load() != null) words.add(noted.load());
                    if (test.probes() != null) words.add("probes " + test.probes());
                    return new Then(
                            String.join(", ", words),
                            figure(noted.rpm() == null ? null : typed(noted.rpm()), "rpm"),
                            figure(warmth(noted.coolantC()), warmth().symbol()),
                            figure(warmth(noted.intakeAirC()), warmth().symbol()),
                            figure(noted.barometerKpa() == null ? null : typed(noted.barometerKpa()), "kPa"));
                })
                .orElse(null);
    }

    private static @Nullable String figure(@Nullable String typed, String unit) {
        return typed == null ? null : "Before the repair: " + typed + " " + unit + ".";
    }

    private @Nullable String warmth(@Nullable Double celsius) {
        return celsius == null ? null : typed(warmth().fromSi(Unit.CELSIUS.toSi(celsius)));
    }

    /** What was read off before the repair is read off again: without it the two cannot be compared. */
    private void saidAgain(Conditions then, Form form, Typing typing) {
        if (then.rpm() != null && form.rpm() == null) {
            typing.wrong("rpm", "Enter the engine speed as it is now: without it the two tests cannot be compared.");
        }
        if (then.coolantC() != null && form.coolant() == null) {
            typing.wrong("coolant", "Enter the coolant as it is now: without it the two tests cannot be compared.");
        }
        if (then.motion() != null && !"true".equals(form.same()) && motion(form.motion()) == null) {
            typing.wrong("motion", "Tick the line above, or say whether the car stands or is driven.");
        }
    }

    private static @Nullable String said(@Nullable String typed, Optional<String> before) {
        return typed == null || typed.isBlank() ? before.orElse(typed) : typed;
    }

    private static @Nullable Motion motion(Form form, Optional<MeasurementView> alike) {
        Motion chosen = motion(form.motion());
        return chosen != null
                ? chosen
                : alike.map(MeasurementView::conditions).map(Conditions::motion).orElse(null);
    }

    /** The gear a parked car's engine runs in; never preset, for whoever then chose "driven" would write it down. */
    private static String rest(TicketView ticket) {
        return ticket.vehicle().gearbox().equals("AUTOMATIC") ? "P" : "N";
    }

    private static @Nullable String gear(
            Form form, KeyState state, TicketView ticket, Optional<MeasurementView> alike) {
        String said = said(form.gear(), alike.map(MeasurementView::conditions).map(Conditions::gear));
        boolean parked = state == KeyState.RUNNING && motion(form, alike) == Motion.PARKED;
        return said != null && !said.isBlank() || !parked ? said : rest(ticket);
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
