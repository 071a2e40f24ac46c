package idlewright.people.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.ApiKeys;
import idlewright.people.For;
import idlewright.people.Role;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The keys of other programs; a new key is shown on the page after it was made, and never again. */
@Controller
@For(Role.OWNER)
@RequestMapping("/set-up/api-keys")
class ApiKeysScreen {

    private final ApiKeys keys;
    private final Problems problems;

    ApiKeysScreen(ApiKeys keys, Problems problems) {
        this.keys = keys;
        this.problems = problems;
    }

    @GetMapping
    String list(Model model) {
        model.addAttribute("keys", keys.all());
        return "people/api-keys";
    }

    @PostMapping
    String make(@RequestParam @Nullable String name, Model model, RedirectAttributes after) {
        try {
            after.addFlashAttribute("made", keys.make(name));
            return "redirect:/set-up/api-keys";
        } catch (Refused no) {
            model.addAttribute("name", name);
            model.addAttribute("keys", keys.all());
            return problems.show(model, no, "people/api-keys");
        }
    }

    @PostMapping("/{id}/retirement")
    String retire(@PathVariable long id, RedirectAttributes after) {
        keys.retire(id);
        after.addFlashAttribute("notice", "The key was retired; programs that use it are turned away from now on.");
        return "redirect:/set-up/api-keys";
    }
}
