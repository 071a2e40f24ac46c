package idlewright.repair.screens;

import idlewright.bench.Bench;
import idlewright.bench.rules.Catalogue;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.repair.FindingView;
import idlewright.repair.Findings;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** The technician decides on a cause: the likeliest first, the whole catalogue below. */
@Controller
@For(Role.TECHNICIAN)
class FindingScreen {

    private static final int SHOWN = 5;

    /** What was typed; {@code other} is a cause of the catalogue that is not among the likeliest. */
    record Form(
            @Nullable String cause,
            @Nullable String other,
            @Nullable String words,
            @Nullable String correction,
            @Nullable String reason) {

        String chosen() {
            return other != null ? other : cause == null ? "" : cause;
        }
    }

    private final Findings findings;
    private final Tickets tickets;
    private final Bench bench;
    private final Catalogue catalogue;
    private final People people;
    private final Problems problems;

    FindingScreen(
            Findings findings, Tickets tickets, Bench bench, Catalogue catalogue, People people, Problems problems) {
        this.people = people;
        this.findings = findings;
        this.tickets = tickets;
        this.bench = bench;
        this.catalogue = catalogue;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/findings/new")
    String blank(@PathVariable int number, @PathVariable int place, Model model) {
        model.addAttribute("form", new Form(null, null, null, null, null));
        return form(SymptomRef.of(number, place), model);
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/findings")
    String decide(@PathVariable int number, @PathVariable int place, @ModelAttribute("form") Form form, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        try {
            findings.decide(ref, form.chosen(), text(form.words()), text(form.correction()), form.reason());
            return Car.back(people, ref.ticket());
        } catch (Refused no) {
            return problems.show(model, no, form(ref, model));
        }
    }

    private String form(SymptomRef ref, Model model) {
        var ticket = tickets.get(ref.ticket());
        var symptom = ticket.symptom(ref.place());
        var ranking = bench.causes(ref);
        model.addAttribute("ticket", ticket);
        model.addAttribute("symptom", symptom);
        model.addAttribute("car", Car.of(ticket, ref.place()));
        model.addAttribute("likeliest", ranking.causes().stream().limit(SHOWN).toList());
        model.addAttribute("ranking", ranking);
        model.addAttribute("catalogue", catalogue());
        model.addAttribute(
                "earlier", findings.of(ref).map(FindingView::causeName).orElse(null));
        return "repair/finding";
    }

    private Map<String, String> catalogue() {
        var options = new LinkedHashMap<String, String>();
        catalogue.causes().forEach(cause -> options.put(cause.key(), cause.system() + ": " + cause.name()));
        return options;
    }

    private static String text(@Nullable String typed) {
        return typed == null ? "" : typed;
    }
}
