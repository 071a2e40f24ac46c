package idlewright.people.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Staff;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** One person: name and roles, a new password, a new PIN, the leaving. */
@Controller
@For(Role.OWNER)
@RequestMapping("/set-up/people/{id}")
class PersonScreen {

    private final Staff staff;
    private final Problems problems;

    PersonScreen(Staff staff, Problems problems) {
        this.staff = staff;
        this.problems = problems;
    }

    @GetMapping
    String show(@PathVariable long id, Model model) {
        model.addAttribute("form", PersonForm.of(staff.get(id)));
        return page(id, model);
    }

    @PostMapping
    String change(
            @PathVariable long id, @ModelAttribute("form") PersonForm form, Model model, RedirectAttributes after) {
        return done(
                id,
                model,
                after,
                "Kept.",
                () -> staff.change(
                        id,
                        Objects.requireNonNullElse(form.version(), -1L),
                        form.name(),
                        form.signIn(),
                        form.toRoles()));
    }

    @PostMapping("/password")
    String newPassword(
            @PathVariable long id, @RequestParam @Nullable String password, Model model, RedirectAttributes after) {
        model.addAttribute("form", PersonForm.of(staff.get(id)));
        return done(id, model, after, "The new password holds from now on.", () -> staff.newPassword(id, password));
    }

    @PostMapping("/pin")
    String newPin(@PathVariable long id, @RequestParam @Nullable String pin, Model model, RedirectAttributes after) {
        model.addAttribute("form", PersonForm.of(staff.get(id)));
        return done(id, model, after, "The new PIN holds from now on.", () -> staff.newPin(id, pin));
    }

    @PostMapping("/retirement")
    String retire(@PathVariable long id, Model model, RedirectAttributes after) {
        model.addAttribute("form", PersonForm.of(staff.get(id)));
        return done(id, model, after, "Retired. What was done under this name stays.", () -> staff.retire(id));
    }

    private String done(long id, Model model, RedirectAttributes after, String notice, Runnable verb) {
        try {
            verb.run();
            after.addFlashAttribute("notice", notice);
            return "redirect:/set-up/people/" + id;
        } catch (Refused no) {
            return problems.show(model, no, page(id, model));
        }
    }

    private String page(long id, Model model) {
        model.addAttribute("colleague", staff.get(id));
        model.addAttribute("roles", PersonForm.options());
        return "people/person";
    }
}
