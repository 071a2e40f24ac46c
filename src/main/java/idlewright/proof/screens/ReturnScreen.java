package idlewright.proof.screens;

import idlewright.frame.NotFound;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.proof.FollowUps;
import idlewright.proof.rules.ReturnReason;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** The owner says why a symptom came back. */
@Controller
@For(Role.OWNER)
class ReturnScreen {

    /** What was typed. */
    record Form(@Nullable String reason, @Nullable String words) {}

    private final FollowUps followUps;
    private final Tickets tickets;
    private final Problems problems;

    ReturnScreen(FollowUps followUps, Tickets tickets, Problems problems) {
        this.followUps = followUps;
        this.tickets = tickets;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/return")
    String why(@PathVariable int number, @PathVariable int place, Model model) {
        model.addAttribute("form", new Form(null, null));
        return page(SymptomRef.of(number, place), model);
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/return")
    String explain(@PathVariable int number, @PathVariable int place, @ModelAttribute("form") Form form, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        try {
            ReturnReason reason = null;
            for (ReturnReason each : ReturnReason.values()) {
                if (each.name().equals(form.reason())) {
                    reason = each;
                }
            }
            if (reason == null) {
                throw Refused.at("reason", "Choose the reason that comes nearest.");
            }
            followUps.explain(ref, reason, form.words() == null ? "" : form.words());
            return "redirect:" + ref.ticket().url();
        } catch (Refused no) {
            return problems.show(model, no, page(ref, model));
        }
    }

    private String page(SymptomRef ref, Model model) {
        var ticket = tickets.get(ref.ticket());
        var symptom = ticket.symptom(ref.place());
        if (!symptom.has(ThreadStamp.RETURNED)) {
            throw NotFound.of("return of symptom " + ref);
        }
        model.addAttribute("ticket", ticket);
        model.addAttribute("symptom", symptom);
        model.addAttribute(
                "said",
                followUps.said(ref.ticket()).stream()
                        .filter(s -> s.place() == ref.place())
                        .toList());
        model.addAttribute(
                "explained",
                followUps.explained(ref.ticket()).stream()
                        .filter(e -> e.place() == ref.place())
                        .toList());
        model.addAttribute("reasons", reasons());
        return "proof/return";
    }

    private static Map<String, String> reasons() {
        var options = new LinkedHashMap<String, String>();
        for (ReturnReason each : ReturnReason.values()) {
            options.put(each.name(), each.words());
        }
        return options;
    }
}
