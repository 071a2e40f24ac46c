package idlewright.people.screens;

import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import jakarta.servlet.http.HttpServletRequest;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;

/** Shows what was typed into a form that came too late, and sends it on when its person says so. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class HeldScreen {

    private final People people;
    private final HeldPosts posts;

    HeldScreen(People people, HeldPosts posts) {
        this.people = people;
        this.posts = posts;
    }

    @GetMapping("/held")
    String held(HttpServletRequest request, Model model) {
        var held = posts.held(request.getSession(false));
        if (held.isEmpty()) {
            return "redirect:" + Ways.start(people.me());
        }
        boolean mine = held.get().typedBy() == people.me().id();
        model.addAttribute("held", mine ? held.get() : null);
        model.addAttribute(
                "other", mine ? null : people.get(held.get().typedBy()).name());
        return "people/held";
    }

    @PostMapping("/held/throwing-away")
    String throwAway(HttpServletRequest request) {
        posts.drop(request.getSession(false));
        return "redirect:" + Ways.start(people.me());
    }
}
