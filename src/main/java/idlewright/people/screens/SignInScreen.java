package idlewright.people.screens;

import idlewright.people.Hints;
import idlewright.people.People;
import idlewright.people.Public;
import idlewright.people.rules.LocalPath;
import jakarta.servlet.http.HttpServletRequest;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The sign-in page of a desk; the form itself is taken by the door, before any screen. */
@Controller
@Public
class SignInScreen {

    private final People people;
    private final BayCookie bay;
    private final ObjectProvider<Hints> hints;

    SignInScreen(People people, BayCookie bay, ObjectProvider<Hints> hints) {
        this.people = people;
        this.bay = bay;
        this.hints = hints;
    }

    @GetMapping("/sign-in")
    String signIn(@RequestParam @Nullable String to, HttpServletRequest request, Model model) {
        var badge = people.badge();
        if (badge.isPresent() && !badge.get().bay()) {
            return "redirect:" + LocalPath.of(to).orElse(Ways.start(badge.get().person()));
        }
        Ways.said(request.getSession(false)).ifPresent(said -> {
            model.addAttribute("problems", said.problems());
            model.addAttribute("name", said.name());
        });
        model.addAttribute("to", LocalPath.of(to).orElse(null));
        model.addAttribute("atTerminal", bay.terminal(request).isPresent());
        Hints shown = hints.getIfAvailable();
        model.addAttribute("hints", shown == null ? List.of() : shown.hints());
        return "people/sign-in";
    }
}
