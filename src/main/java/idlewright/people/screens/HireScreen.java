package idlewright.people.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Somebody new. */
@Controller
@For(Role.OWNER)
class HireScreen {

    private final People people;
    private final Problems problems;

    HireScreen(People people, Problems problems) {
        this.people = people;
        this.problems = problems;
    }

    @GetMapping("/set-up/people/new")
    String form(Model model) {
        model.addAttribute("form", new PersonForm(null, null, List.of(), null));
        model.addAttribute("roles", PersonForm.options());
        return "people/hire";
    }

    @PostMapping("/set-up/people")
    String hire(
            @ModelAttribute("form") PersonForm form,
            @RequestParam @Nullable String password,
            @RequestParam @Nullable String pin,
            Model model,
            RedirectAttributes after) {
        try {
            var hired = people.hire(form.name(), form.signIn(), password, pin, form.toRoles());
            after.addFlashAttribute("notice", hired.name() + " works here now.");
            return "redirect:/set-up/people";
        } catch (Refused no) {
            model.addAttribute("roles", PersonForm.options());
            return problems.show(model, no, "people/hire");
        }
    }
}
