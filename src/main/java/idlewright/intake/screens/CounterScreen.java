package idlewright.intake.screens;

import idlewright.intake.CounterLine;
import idlewright.intake.Letters;
import idlewright.intake.Tickets;
import idlewright.intake.rules.Whose;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Open tickets as sentences, grouped by whose move it is. */
@Controller
class CounterScreen {

    /** One group of sentences. */
    record Group(Whose whose, List<CounterLine> lines, Instant oldest, int shown) {

        public List<CounterLine> first() {
            return lines.subList(0, Math.min(shown, lines.size()));
        }
    }

    /** More of one kind than a person looks through; the longest waits stand first. */
    private static final int SHOWN = 60;

    private final Tickets tickets;
    private final Letters letters;
    private final People people;

    CounterScreen(Tickets tickets, Letters letters, People people) {
        this.tickets = tickets;
        this.letters = letters;
        this.people = people;
    }

    @GetMapping("/")
    @For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
    String start() {
        var me = people.me();
        return me.is(Role.WRITER) || me.is(Role.OWNER) ? "redirect:/counter" : "redirect:/bay";
    }

    @GetMapping("/counter")
    @For({Role.WRITER, Role.OWNER})
    String counter(@RequestParam(required = false) @Nullable Whose all, Model model) {
        List<CounterLine> open = tickets.open();
        List<Group> groups = Stream.of(Whose.COUNTER, Whose.CUSTOMER, Whose.BAY, Whose.OWNER)
                .map(whose -> group(whose, open, whose == all ? Integer.MAX_VALUE : SHOWN))
                .toList();
        model.addAttribute("groups", groups);
        model.addAttribute("heading", heading(cars(open), cars(groups.get(0).lines())));
        model.addAttribute("failedLetters", letters.failed());
        return "intake/counter";
    }

    static Group group(Whose whose, List<CounterLine> open, int shown) {
        List<CounterLine> lines =
                open.stream().filter(line -> line.move().whose() == whose).toList();
        return new Group(
                whose, lines, lines.isEmpty() ? null : lines.get(0).move().since(), shown);
    }

    /** A car with two tickets stands there once. */
    static long cars(List<CounterLine> lines) {
        return lines.stream()
                .map(line -> List.of(line.vehicle(), String.valueOf(line.plate()), line.customer()))
                .distinct()
                .count();
    }

    static String heading(long cars, long waiting) {
        if (cars == 0) {
            return "No car is waiting";
        }
        return words(cars)
                + (cars == 1 ? " car, " : " cars, ")
                + (waiting == 0
                        ? "none waiting for us"
                        : words(waiting).toLowerCase(java.util.Locale.ROOT) + " waiting for us");
    }

    private static String words(long n) {
        String[] words = {
            "No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"
        };
        return n < words.length ? words[(int) n] : Long.toString(n);
    }
}
