package idlewright.proof.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.For;
import idlewright.people.Me;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.proof.ProofView;
import idlewright.proof.Proofs;
import idlewright.proof.rules.Codes;
import idlewright.proof.rules.Monitors;
import idlewright.proof.rules.RoadTest;
import idlewright.proof.rules.Statement;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Before and after, side by side; and what a technician states to prove the repair. */
@Controller
@For({Role.TECHNICIAN, Role.WRITER, Role.OWNER})
class ProofScreen {

    /** What was typed; how is "measured" or "road". */
    record Form(
            @Nullable String how,
            @Nullable String reason,
            @Nullable String codes,
            @Nullable String codesNote,
            @Nullable String monitors,
            @Nullable String monitorsNote,
            @Nullable String roadTest,
            @Nullable String roadTestNote,
            @Nullable String verifiedBy) {}

    private final Proofs proofs;
    private final Tickets tickets;
    private final People people;
    private final Problems problems;

    ProofScreen(Proofs proofs, Tickets tickets, People people, Problems problems) {
        this.proofs = proofs;
        this.tickets = tickets;
        this.people = people;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/proof")
    String proof(@PathVariable int number, @PathVariable int place, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        ProofView view = proofs.look(ref);
        String driven = view.driven() == null ? null : view.driven().name();
        String read = view.monitors() == null ? null : view.monitors().name();
        model.addAttribute("form", new Form(null, null, null, null, read, null, driven, null, null));
        return page(ref, view, model);
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/proof")
    @For(Role.TECHNICIAN)
    String prove(@PathVariable int number, @PathVariable int place, @ModelAttribute("form") Form form, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        try {
            var typing = new Typing();
            Codes codes = chosen(typing, "codes", form.codes(), Codes.values(), "Say what became of the codes.");
            Monitors monitors = chosen(
                    typing, "monitors", form.monitors(), Monitors.values(), "Say whether the monitors are ready.");
            RoadTest road =
                    chosen(typing, "roadTest", form.roadTest(), RoadTest.values(), "Say what the road test showed.");
            typing.done();
            var statement = new Statement(
                    codes,
                    text(form.codesNote()),
                    monitors,
                    text(form.monitorsNote()),
                    road,
                    text(form.roadTestNote()),
                    text(form.verifiedBy()));
            if ("road".equals(form.how())) {
                proofs.proveByRoadTest(ref, statement, text(form.reason()));
            } else {
                proofs.prove(ref, statement);
            }
            return "redirect:"
                    + people.badge()
                            .map(Me::of)
                            .map(me -> me.at(ref.ticket()))
                            .orElse(ref.ticket().url());
        } catch (Refused no) {
            return problems.show(model, no, page(ref, proofs.look(ref), model));
        }
    }

    private String page(SymptomRef ref, ProofView view, Model model) {
        var ticket = tickets.get(ref.ticket());
        var others = new LinkedHashMap<String, String>();
        people.all().stream()
                .filter(person -> person.id() != people.me().id())
                .forEach(person -> others.put(person.name(), person.name()));
        model.addAttribute("view", view);
        model.addAttribute(
                "open", ThreadStamp.PROVED.mayFollow(ticket.symptom(ref.place()).carried()));
        model.addAttribute("ticket", ticket);
        model.addAttribute(
                "car",
                Map.of("ticket", ticket.number(), "words", ticket.vehicle().name()));
        model.addAttribute("symptom", ticket.symptom(ref.place()));
        model.addAttribute("codes", options(Codes.values(), Codes::words));
        model.addAttribute("monitors", options(Monitors.values(), Monitors::words));
        model.addAttribute("roads", options(RoadTest.values(), RoadTest::words));
        model.addAttribute("others", others);
        return "proof/proof";
    }

    private static <E extends Enum<E>> E chosen(
            Typing typing, String field, @Nullable String typed, E[] all, String ifNone) {
        for (E each : all) {
            if (each.name().equals(typed)) {
                return each;
            }
        }
        typing.wrong(field, ifNone);
        return all[0];
    }

    private static <E extends Enum<E>> Map<String, String> options(E[] all, Function<E, String> words) {
        var options = new LinkedHashMap<String, String>();
        for (E each : all) {
            options.put(each.name(), words.apply(each));
        }
        return options;
    }

    private static String text(@Nullable String typed) {
        return typed == null ? "" : typed;
    }
}
