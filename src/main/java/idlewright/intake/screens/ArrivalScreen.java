package idlewright.intake.screens;

import idlewright.intake.Arrivals;
import idlewright.people.For;
import idlewright.people.Role;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** A car has come: is it known? */
@Controller
@For({Role.WRITER, Role.OWNER})
class ArrivalScreen {

    private final Arrivals arrivals;

    ArrivalScreen(Arrivals arrivals) {
        this.arrivals = arrivals;
    }

    @GetMapping("/tickets/new")
    String arrival(@RequestParam(required = false) @Nullable String words, Model model) {
        String asked = words == null ? "" : words.strip();
        model.addAttribute("words", asked);
        model.addAttribute("known", asked.isEmpty() ? arrivals.latest() : arrivals.known(asked));
        return "intake/arrival";
    }
}
