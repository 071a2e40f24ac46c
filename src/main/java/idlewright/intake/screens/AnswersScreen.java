package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.SymptomKinds;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.For;
import idlewright.people.Role;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The questions of a symptom's kind: asked at the counter, read in the bay. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class AnswersScreen {

    /** What was answered for another symptom of the visit and as a rule holds for this one too. */
    record Offered(String key, String asks, String answer, String saidOf) {}

    private final Tickets tickets;
    private final SymptomKinds kinds;
    private final Problems problems;

    AnswersScreen(Tickets tickets, SymptomKinds kinds, Problems problems) {
        this.tickets = tickets;
        this.kinds = kinds;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/answers")
    String questions(
            @PathVariable int number,
            @PathVariable int place,
            @RequestParam(defaultValue = "false") boolean same,
            Model model) {
        var kept = new LinkedHashMap<String, String>();
        TicketView ticket = tickets.get(new TicketNumber(number));
        ticket.symptom(place).answers().forEach(a -> kept.put(a.question(), a.answer()));
        if (same) {
            List<Offered> filled = offered(ticket, place, kept);
            filled.forEach(one -> kept.put(one.key(), one.answer()));
            model.addAttribute("filled", filled);
        }
        return form(number, place, kept, model);
    }

    /** What is not answered here yet, but was for another symptom. */
    private List<Offered> offered(TicketView ticket, int place, Map<String, String> answers) {
        return kinds.questions(ticket.symptom(place).kind()).stream()
                .filter(question -> question.carries() && !answers.containsKey(question.key()))
                .flatMap(question -> ticket.symptoms().stream()
                        .filter(other -> other.place() != place)
                        .flatMap(other -> other.answers().stream()
                                .filter(said -> said.question().equals(question.key()))
                                .map(said ->
                                        new Offered(question.key(), question.asks(), said.answer(), other.kindName())))
                        .limit(1))
                .toList();
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/answers")
    String answer(
            @PathVariable int number,
            @PathVariable int place,
            @RequestParam MultiValueMap<String, String> typed,
            Model model) {
        var answers = new LinkedHashMap<String, String>();
        typed.forEach((name, values) -> {
            if (name.startsWith("q-")) {
                List<String> said = values.stream().filter(v -> !v.isBlank()).toList();
                if (!said.isEmpty()) {
                    answers.put(name.substring(2), String.join(", ", said));
                }
            }
        });
        try {
            SymptomRef ref = SymptomRef.of(number, place);
            tickets.answer(ref, answers);
            if (typed.containsKey("another")) {
                return "redirect:/tickets/" + number + "/symptoms/new";
            }
            TicketView ticket = tickets.get(ref.ticket());
            return ticket.has(TicketStamp.AGREED) || typed.containsKey("later")
                    ? "redirect:/tickets/" + number
                    : "redirect:/tickets/" + number + "/authorisations/new";
        } catch (Refused no) {
            var prefixed = new LinkedHashMap<String, String>();
            no.problems().forEach((key, words) -> prefixed.put(key.isEmpty() ? "" : "q-" + key, words));
            form(number, place, answers, model);
            return problems.show(model, prefixed, "intake/answers");
        }
    }

    private String form(int number, int place, Map<String, String> answers, Model model) {
        TicketView ticket = tickets.get(new TicketNumber(number));
        var symptom = ticket.symptom(place);
        model.addAttribute("ticket", ticket);
        model.addAttribute("symptom", symptom);
        model.addAttribute("questions", kinds.questions(symptom.kind()));
        model.addAttribute("answers", answers);
        model.addAttribute("offered", offered(ticket, place, answers));
        return "intake/answers";
    }
}
