package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
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

/** Ends a thread without a repair, and says why. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class EndingScreen {

    /** What was typed. */
    record Form(@Nullable String how, @Nullable String reason) {}

    private final Tickets tickets;
    private final Problems problems;

    EndingScreen(Tickets tickets, Problems problems) {
        this.tickets = tickets;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/ending")
    String ending(
            @PathVariable int number,
            @PathVariable int place,
            @RequestParam(required = false) @Nullable String how,
            Model model) {
        model.addAttribute("form", new Form(how, null));
        return form(number, place, model);
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/ending")
    String end(@PathVariable int number, @PathVariable int place, @ModelAttribute("form") Form form, Model model) {
        try {
            if (!"DECLINED".equals(form.how()) && !"UNTRACED".equals(form.how())) {
                throw Refused.at("how", "Choose how it ends.");
            }
            tickets.end(SymptomRef.of(number, place), ThreadStamp.valueOf(form.how()), form.reason());
            return "redirect:/tickets/" + number;
        } catch (Refused no) {
            form(number, place, model);
            return problems.show(model, no, "intake/ending");
        }
    }

    private String form(int number, int place, Model model) {
        var ticket = tickets.get(new TicketNumber(number));
        model.addAttribute("ticket", ticket);
        model.addAttribute("symptom", ticket.symptom(place));
        return "intake/ending";
    }
}
