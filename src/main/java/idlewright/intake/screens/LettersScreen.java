package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.Letters;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import java.util.List;
import java.util.Set;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Letters by e-mail: what waits, what failed and why. */
@Controller
@For({Role.WRITER, Role.OWNER})
class LettersScreen {

    private final Letters letters;
    private final Problems problems;

    LettersScreen(Letters letters, Problems problems) {
        this.letters = letters;
        this.problems = problems;
    }

    @GetMapping("/letters")
    String letters(Model model) {
        List<Letters.LetterView> lately = letters.lately();
        model.addAttribute("letters", lately);
        model.addAttribute("doubted", lately.stream().anyMatch(Letters.LetterView::unsure));
        model.addAttribute("setUp", letters.setUp());
        return "intake/letters";
    }

    @PostMapping("/letters/{id:\\d+}/again")
    String again(@PathVariable long id, Model model) {
        try {
            letters.tryAgain(id);
            return "redirect:/letters";
        } catch (Refused no) {
            return problems.show(model, no, letters(model));
        }
    }

    @PostMapping("/letters/{id:\\d+}/rest")
    String rest(@PathVariable long id, Model model) {
        try {
            letters.rest(id);
            return "redirect:/letters";
        } catch (Refused no) {
            return problems.show(model, no, letters(model));
        }
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage lettersPage() {
            return new SetUpPage(
                    "Letters",
                    "/letters",
                    "E-mail to customers: what waits, what failed and why",
                    Set.of(Role.WRITER, Role.OWNER));
        }
    }
}
