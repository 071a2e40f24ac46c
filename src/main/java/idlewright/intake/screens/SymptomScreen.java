package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.SymptomKinds;
import idlewright.people.For;
import idlewright.people.Role;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** One more symptom, in the customer's own words; and amending them. */
@Controller
@For({Role.WRITER, Role.OWNER})
class SymptomScreen {

    /** What the counter typed. */
    record Form(@Nullable String words, @Nullable String kind) {}

    private final Tickets tickets;
    private final SymptomKinds kinds;
    private final Problems problems;

    SymptomScreen(Tickets tickets, SymptomKinds kinds, Problems problems) {
        this.tickets = tickets;
        this.kinds = kinds;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/new")
    String blank(@PathVariable int number, Model model) {
        model.addAttribute("form", new Form(null, null));
        return form(number, model);
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms")
    String hear(@PathVariable int number, @ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            String words = words(typing, form.words());
            String kind = kind(typing, form.kind(), kinds);
            typing.done();
            return "redirect:"
                    + tickets.hear(new TicketNumber(number), kind, words).url() + "/answers";
        } catch (Refused no) {
            form(number, model);
            return problems.show(model, no, "intake/symptom");
        }
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/amending")
    String amending(@PathVariable int number, @PathVariable int place, Model model) {
        var symptom = tickets.get(new TicketNumber(number)).symptom(place);
        model.addAttribute("form", new Form(symptom.words(), symptom.kind()));
        model.addAttribute("version", symptom.version());
        model.addAttribute("symptom", symptom);
        return form(number, model);
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/amending")
    String amend(
            @PathVariable int number,
            @PathVariable int place,
            @RequestParam int version,
            @ModelAttribute("form") Form form,
            Model model) {
        try {
            var typing = new Typing();
            String words = words(typing, form.words());
            String kind = kind(typing, form.kind(), kinds);
            typing.done();
            tickets.amend(SymptomRef.of(number, place), version, kind, words);
            return "redirect:/tickets/" + number;
        } catch (Refused no) {
            model.addAttribute("version", version);
            model.addAttribute("symptom", tickets.get(new TicketNumber(number)).symptom(place));
            form(number, model);
            return problems.show(model, no, "intake/symptom");
        }
    }

    static String words(Typing typing, @Nullable String typed) {
        String words = typing.needed("words", typed, "Write down what the customer says, in their own words.");
        if (words.length() > 4000) {
            typing.wrong("words", "Keep it under 4,000 characters.");
        }
        return words;
    }

    static String kind(Typing typing, @Nullable String typed, SymptomKinds kinds) {
        String kind = typing.needed("kind", typed, "Choose what kind of symptom it is.");
        if (!kind.isEmpty() && !kinds.names().containsKey(kind)) {
            typing.wrong("kind", "Choose one of the kinds in the list.");
        }
        return kind;
    }

    private String form(int number, Model model) {
        model.addAttribute("ticket", tickets.get(new TicketNumber(number)));
        model.addAttribute("kinds", kinds.names());
        return "intake/symptom";
    }
}
