package idlewright.bench.screens;

import idlewright.bench.Bench;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** Every cause of a complaint in its rank, with what speaks for it and against it. */
@Controller
@For({Role.TECHNICIAN, Role.OWNER, Role.WRITER})
class CausesScreen {

    private final Tickets tickets;
    private final Bench bench;

    CausesScreen(Tickets tickets, Bench bench) {
        this.tickets = tickets;
        this.bench = bench;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/causes")
    String causes(@PathVariable int number, @PathVariable int place, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        TicketView ticket = tickets.get(ref.ticket());
        model.addAttribute("ticket", ticket);
        model.addAttribute("car", Car.of(ticket));
        model.addAttribute("symptom", ticket.symptom(place));
        model.addAttribute("ranking", bench.causes(ref));
        model.addAttribute("plan", bench.next(ref));
        return "bench/causes";
    }
}
