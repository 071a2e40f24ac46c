package idlewright.people.screens;

import idlewright.frame.Typefaces;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import java.util.List;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** Everything that can be set up, as far as the person may. */
@Controller
@For({Role.OWNER, Role.WRITER})
class SetUpScreen {

    private final People people;
    private final List<SetUpPage> pages;
    private final Typefaces typefaces;

    SetUpScreen(People people, List<SetUpPage> pages, Typefaces typefaces) {
        this.people = people;
        this.pages = pages;
        this.typefaces = typefaces;
    }

    @GetMapping("/set-up")
    String index(Model model) {
        var me = people.me();
        model.addAttribute(
                "pages",
                pages.stream()
                        .filter(page -> page.roles().stream().anyMatch(me::is))
                        .toList());
        model.addAttribute("boxes", typefaces.missing());
        model.addAttribute("fonts", typefaces.addedNames());
        return "people/set-up";
    }
}
