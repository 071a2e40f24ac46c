package idlewright.people.screens;

import idlewright.people.People;
import idlewright.people.Public;
import idlewright.people.rules.LocalPath;
import jakarta.servlet.http.HttpServletRequest;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The change of technician at a bay terminal: a name, then a PIN. The PIN is taken by the door, before any screen. */
@Controller
@Public
class ChangeScreen {

    private final People people;
    private final BayCookie bay;

    ChangeScreen(People people, BayCookie bay) {
        this.people = people;
        this.bay = bay;
    }

    @GetMapping({"/bay/change", "/bay/technician"})
    String change(
            @RequestParam @Nullable Long person,
            @RequestParam @Nullable String to,
            HttpServletRequest request,
            Model model) {
        var terminal = bay.terminal(request);
        if (terminal.isEmpty()) {
            return "redirect:/sign-in"
                    + LocalPath.of(to).map(path -> "?to=" + path).orElse("");
        }
        Ways.said(request.getSession(false)).ifPresent(said -> model.addAttribute("refusal", said.sentence()));
        var technicians = people.technicians();
        model.addAttribute("terminal", terminal.get());
        model.addAttribute("technicians", technicians);
        model.addAttribute(
                "chosen",
                technicians.stream()
                        .filter(technician -> person != null && technician.id() == person)
                        .findFirst()
                        .orElse(null));
        model.addAttribute("to", LocalPath.of(to).orElse(null));
        return "people/change";
    }
}
