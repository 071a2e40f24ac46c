package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import java.math.BigDecimal;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Car and keys go back to the customer. */
@Controller
@For({Role.WRITER, Role.OWNER})
class HandingBackScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String distance,
            @Nullable String distanceRemark,
            @Nullable String days) {}

    private final Tickets tickets;
    private final Problems problems;

    HandingBackScreen(Tickets tickets, Problems problems) {
        this.tickets = tickets;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/handing-back")
    String handingBack(@PathVariable int number, Model model) {
        model.addAttribute("form", new Form(null, null, "7"));
        return form(number, model);
    }

    @PostMapping("/tickets/{number:\\d+}/handing-back")
    String handBack(@PathVariable int number, @ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            BigDecimal distance =
                    typing.neededOdometer("distance", form.distance(), "Enter what the odometer shows now.");
            int days = typing.neededWhole("days", form.days(), "Enter in how many days the customer is asked again.");
            typing.done();
            tickets.handBack(new TicketNumber(number), distance, form.distanceRemark(), days);
            return "redirect:/tickets/" + number;
        } catch (Refused no) {
            form(number, model);
            return problems.show(model, no, "intake/handing-back");
        }
    }

    private String form(int number, Model model) {
        model.addAttribute("ticket", tickets.get(new TicketNumber(number)));
        return "intake/handing-back";
    }
}
