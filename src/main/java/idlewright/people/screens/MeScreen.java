package idlewright.people.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.Badge;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.people.Staff;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.context.SecurityContextRepository;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** My own page: another password, another PIN. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
@RequestMapping("/me")
class MeScreen {

    private final People people;
    private final Staff staff;
    private final BayCookie bay;
    private final SecurityContextRepository contexts;
    private final Problems problems;

    MeScreen(People people, Staff staff, BayCookie bay, SecurityContextRepository contexts, Problems problems) {
        this.bay = bay;
        this.people = people;
        this.staff = staff;
        this.contexts = contexts;
        this.problems = problems;
    }

    @GetMapping
    String show(HttpServletRequest request, Model model) {
        model.addAttribute("colleague", staff.get(people.me().id()));
        model.addAttribute("terminal", bay.terminal(request).orElse(null));
        return "people/me";
    }

    @PostMapping("/password")
    String password(
            @RequestParam @Nullable String passwordNow,
            @RequestParam @Nullable String password,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model,
            RedirectAttributes after) {
        after.addFlashAttribute("notice", "Your new password holds from now on. Your other sessions are over.");
        return renew(() -> staff.myPassword(passwordNow, password), request, response, model);
    }

    @PostMapping("/pin")
    String pin(
            @RequestParam @Nullable String pinNow,
            @RequestParam @Nullable String pin,
            HttpServletRequest request,
            HttpServletResponse response,
            Model model,
            RedirectAttributes after) {
        after.addFlashAttribute("notice", "Your new PIN holds from now on. Your other sessions are over.");
        return renew(() -> staff.myPin(pinNow, pin), request, response, model);
    }

    /** The badge of this session is the only one that goes on. */
    private String renew(
            Supplier<Badge> change, HttpServletRequest request, HttpServletResponse response, Model model) {
        try {
            var context = SecurityContextHolder.createEmptyContext();
            context.setAuthentication(change.get().authentication());
            SecurityContextHolder.setContext(context);
            contexts.saveContext(context, request, response);
            return "redirect:/me";
        } catch (Refused no) {
            return problems.show(model, no, show(request, model));
        }
    }
}
