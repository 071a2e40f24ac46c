package idlewright.people.screens;

import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Staff;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** The list of everybody who works or worked here. */
@Controller
@For(Role.OWNER)
class PeopleScreen {

    private final Staff staff;

    PeopleScreen(Staff staff) {
        this.staff = staff;
    }

    @GetMapping("/set-up/people")
    String list(Model model) {
        model.addAttribute("everybody", staff.everybody());
        return "people/people";
    }
}
