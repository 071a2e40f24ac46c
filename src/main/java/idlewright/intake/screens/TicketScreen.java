package idlewright.intake.screens;

import idlewright.intake.Act;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** One visit on one page: each symptom a thread from top to bottom. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class TicketScreen {

    /** A symptom with its knots in the order they were tied, what is missing last. */
    record Thread(SymptomView symptom, List<Knot> knots) {}

    private final Tickets tickets;
    private final List<Strand> strands;
    private final People people;

    TicketScreen(Tickets tickets, List<Strand> strands, People people) {
        this.tickets = tickets;
        this.strands = strands;
        this.people = people;
    }

    @GetMapping("/tickets/{number:\\d+}")
    String ticket(@PathVariable int number, Model model) {
        TicketView ticket = tickets.get(new TicketNumber(number));
        var knots = new ArrayList<Knot>();
        Person me = people.me();
        for (Strand strand : strands) {
            strand.knots(ticket.number()).forEach(knot -> knots.add(mine(knot, me)));
        }
        model.addAttribute("ticket", ticket);
        model.addAttribute(
                "threads",
                ticket.symptoms().stream()
                        .map(symptom -> new Thread(symptom, at(knots, symptom.place())))
                        .toList());
        model.addAttribute("whole", at(knots, 0));
        model.addAttribute("next", next(ticket, knots));
        model.addAttribute("visits", ticket.visits());
        return "intake/ticket";
    }

    @PostMapping("/tickets/{number:\\d+}/hand")
    @For(Role.TECHNICIAN)
    String take(@PathVariable int number) {
        tickets.take(new TicketNumber(number));
        return "redirect:/bay/" + number;
    }

    /** The act of whoever's move it is, for the button beside the sentence. */
    private static Act next(TicketView ticket, List<Knot> knots) {
        return knots.stream()
                .filter(knot -> ticket.move().place() == 0
                        || knot.place() == ticket.move().place()
                        || knot.place() == 0)
                .flatMap(knot -> knot.acts().stream())
                .filter(Act::main)
                .findFirst()
                .orElse(null);
    }

    private static Knot mine(Knot knot, Person me) {
        return new Knot(
                knot.place(),
                knot.at(),
                knot.who(),
                knot.chapter(),
                knot.title(),
                knot.said(),
                knot.fragment(),
                knot.model(),
                knot.figures(),
                knot.acts().stream()
                        .filter(act -> act.roles().stream().anyMatch(me::is))
                        .toList());
    }

    private static List<Knot> at(List<Knot> knots, int place) {
        return knots.stream()
                .filter(knot -> knot.place() == place)
                .sorted(Comparator.comparing((Knot knot) -> knot.at() == null ? Instant.MAX : knot.at())
                        .thenComparing(Knot::chapter))
                .toList();
    }
}
