package idlewright.people.screens;

import idlewright.frame.NotFound;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.FirstStart;
import idlewright.people.Public;
import jakarta.servlet.http.HttpServletRequest;
import java.time.ZoneId;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Makes the shop and its first owner; the page is gone once there is one. */
@Controller
@Public
@RequestMapping("/first-start")
class FirstStartScreen {

    /** The owner as typed. */
    record OwnerForm(
            @Nullable String owner,
            @Nullable String signIn,
            @Nullable String password) {}

    private final FirstStart firstStart;
    private final Problems problems;

    FirstStartScreen(FirstStart firstStart, Problems problems) {
        this.firstStart = firstStart;
        this.problems = problems;
    }

    @GetMapping
    String form(@RequestParam @Nullable String token, HttpServletRequest request, Model model, Locale locale) {
        mustBePending();
        Ways.said(request.getSession(false)).ifPresent(said -> model.addAttribute("problems", said.problems()));
        return show(token, ShopForm.suggested(locale, ZoneId.systemDefault()), new OwnerForm(null, null, null), model);
    }

    @PostMapping
    String begin(
            @RequestParam @Nullable String token,
            @ModelAttribute("form") ShopForm form,
            @ModelAttribute("owner") OwnerForm owner,
            Model model) {
        mustBePending();
        try {
            if (!firstStart.opens(token)) {
                throw Refused.because("Open this page by the address that the program printed at its start.");
            }
            firstStart.begin(token, form.toShop(), form.toSheet(), owner.owner(), owner.signIn(), owner.password());
            return "redirect:/sign-in";
        } catch (Refused no) {
            return problems.show(model, no, show(token, form, owner, model));
        }
    }

    private String show(@Nullable String token, ShopForm form, OwnerForm owner, Model model) {
        model.addAttribute("token", token);
        model.addAttribute("opens", firstStart.opens(token));
        model.addAttribute("form", form);
        model.addAttribute("owner", owner);
        ShopScreen.options(model);
        return "people/first-start";
    }

    private void mustBePending() {
        if (!firstStart.pending()) {
            throw NotFound.of("page here");
        }
    }
}
