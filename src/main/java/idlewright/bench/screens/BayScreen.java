package idlewright.bench.screens;

import idlewright.bench.AtTheCar;
import idlewright.intake.CounterLine;
import idlewright.intake.Tickets;
import idlewright.intake.rules.Whose;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import java.util.List;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** The bay's cars: mine first, then those that wait for the bay, the longest wait on top. */
@Controller
@For({Role.TECHNICIAN, Role.OWNER})
class BayScreen {

    private final Tickets tickets;
    private final People people;
    private final List<AtTheCar> atTheCar;

    BayScreen(Tickets tickets, People people, List<AtTheCar> atTheCar) {
        this.atTheCar = atTheCar;
        this.tickets = tickets;
        this.people = people;
    }

    @GetMapping("/bay")
    String cars(Model model) {
        String me = people.me().name();
        List<CounterLine> open = tickets.open().stream()
                .filter(line -> line.move().whose() == Whose.BAY || line.hand() != null)
                .toList();
        model.addAttribute(
                "mine", open.stream().filter(line -> me.equals(line.hand())).toList());
        model.addAttribute(
                "others", open.stream().filter(line -> !me.equals(line.hand())).toList());
        model.addAttribute(
                "atTheCar",
                atTheCar.stream().flatMap(each -> each.at(null).stream()).toList());
        return "bench/bay";
    }
}
