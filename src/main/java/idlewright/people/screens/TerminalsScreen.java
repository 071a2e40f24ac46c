package idlewright.people.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Terminals;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The bay's terminals; the browser in which the form is sent becomes one. */
@Controller
@For({Role.OWNER, Role.WRITER})
@RequestMapping("/set-up/terminals")
class TerminalsScreen {

    private final Terminals terminals;
    private final BayCookie bay;
    private final Problems problems;

    TerminalsScreen(Terminals terminals, BayCookie bay, Problems problems) {
        this.terminals = terminals;
        this.bay = bay;
        this.problems = problems;
    }

    @GetMapping
    String list(HttpServletRequest request, Model model) {
        return page(request, model);
    }

    @PostMapping
    String enrol(
            @RequestParam @Nullable String name,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model,
            RedirectAttributes after) {
        try {
            bay.give(terminals.enrol(name), request, response);
            after.addFlashAttribute("notice", "This browser is a bay terminal now. Sign out to hand it to the bay.");
            return "redirect:/set-up/terminals";
        } catch (Refused no) {
            model.addAttribute("name", name);
            return problems.show(model, no, page(request, model));
        }
    }

    @PostMapping("/{id}/retirement")
    String retire(@PathVariable long id, RedirectAttributes after) {
        terminals.retire(id);
        after.addFlashAttribute("notice", "The terminal was retired; nobody can sign in there by PIN any more.");
        return "redirect:/set-up/terminals";
    }

    private String page(HttpServletRequest request, Model model) {
        model.addAttribute("terminals", terminals.all());
        model.addAttribute("here", bay.terminal(request).orElse(null));
        return "people/terminals";
    }
}
