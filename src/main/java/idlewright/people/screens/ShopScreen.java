package idlewright.people.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Shops;
import java.util.Objects;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The shop's card: what stands on its paper, and the money, zone and units it works in. */
@Controller
@For(Role.OWNER)
@RequestMapping("/set-up/shop")
class ShopScreen {

    private final Shops shops;
    private final Problems problems;

    ShopScreen(Shops shops, Problems problems) {
        this.shops = shops;
        this.problems = problems;
    }

    @GetMapping
    String form(Model model) {
        shops.forget();
        model.addAttribute("form", ShopForm.of(shops.kept()));
        options(model);
        return "people/shop";
    }

    @PostMapping
    String change(@ModelAttribute("form") ShopForm form, Model model, RedirectAttributes after) {
        try {
            shops.change(form.toShop(), form.toSheet(), Objects.requireNonNullElse(form.version(), -1L));
            after.addFlashAttribute("notice", "The shop's card was kept.");
            return "redirect:/set-up/shop";
        } catch (Refused no) {
            options(model);
            return problems.show(model, no, "people/shop");
        }
    }

    static void options(Model model) {
        model.addAttribute("currencies", ShopForm.currencies());
        model.addAttribute("zones", ShopForm.zones());
        model.addAttribute("languages", ShopForm.languages());
        model.addAttribute("units", ShopForm.unitsToChoose());
        model.addAttribute("sheets", ShopForm.sheets());
    }
}
