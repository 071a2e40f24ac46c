package idlewright.warranty.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.warranty.Terms;
import idlewright.warranty.rules.Example;
import idlewright.warranty.rules.Promise;
import java.math.BigDecimal;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What the shop promises on its own work. */
@Controller
@For(Role.OWNER)
class TermsScreen {

    /** What the owner typed. */
    record Form(
            @Nullable String partMonths,
            @Nullable String partDistance,
            @Nullable String labourMonths,
            @Nullable String labourDistance,
            @Nullable String unit,
            @Nullable String partFalling,
            @Nullable String labourFalling,
            @Nullable String words) {

        static Form from(Terms.Card card) {
            return new Form(
                    "" + card.parts().months(),
                    plain(card.parts().distance()),
                    "" + card.labour().months(),
                    plain(card.labour().distance()),
                    card.parts().unit(),
                    card.parts().falling() ? "true" : null,
                    card.labour().falling() ? "true" : null,
                    card.words());
        }

        private static @Nullable String plain(@Nullable BigDecimal distance) {
            return distance == null ? null : distance.toPlainString();
        }

        Promise[] promises() {
            var typing = new Typing();
            int parts = typing.neededWhole("partMonths", partMonths, "Enter the months, or 0 for no warranty.");
            int labour = typing.neededWhole("labourMonths", labourMonths, "Enter the months, or 0 for no warranty.");
            BigDecimal partsFar = typing.count("partDistance", partDistance);
            BigDecimal labourFar = typing.count("labourDistance", labourDistance);
            above(typing, "partDistance", partsFar);
            above(typing, "labourDistance", labourFar);
            above(typing, "partMonths", parts);
            above(typing, "labourMonths", labour);
            if (!"km".equals(unit) && !"mi".equals(unit)) {
                typing.wrong("unit", "Choose kilometres or miles.");
            }
            typing.done();
            return new Promise[] {
                new Promise(parts, partsFar, "mi".equals(unit) ? "mi" : "km", "true".equals(partFalling)),
                new Promise(labour, labourFar, "mi".equals(unit) ? "mi" : "km", "true".equals(labourFalling))
            };
        }

        private static void above(Typing typing, String field, @Nullable BigDecimal distance) {
            if (distance != null && (distance.signum() <= 0 || distance.compareTo(new BigDecimal("9999999")) > 0)) {
                typing.wrong(field, "Enter a distance above zero, or leave it empty when it does not count.");
            }
        }

        private static void above(Typing typing, String field, int months) {
            if (months < 0 || months > 120) {
                typing.wrong(field, "Enter 0 to 120 months.");
            }
        }
    }

    private final Terms terms;
    private final Shops shops;
    private final Times times;
    private final Problems problems;

    TermsScreen(Terms terms, Shops shops, Times times, Problems problems) {
        this.shops = shops;
        this.times = times;
        this.terms = terms;
        this.problems = problems;
    }

    @GetMapping("/set-up/terms")
    String terms(Model model) {
        Terms.Card card = terms.card();
        model.addAttribute("form", Form.from(card));
        model.addAttribute("version", card.version());
        show(card, model);
        return "warranty/terms";
    }

    @PostMapping("/set-up/terms")
    String set(@RequestParam long version, @ModelAttribute("form") Form form, Model model, RedirectAttributes after) {
        try {
            Promise[] typed = form.promises();
            terms.set(typed[0], typed[1], form.words() == null ? "" : form.words(), version);
            after.addFlashAttribute("notice", "The terms are kept; they hold for invoices issued from now on.");
            return "redirect:/set-up/terms";
        } catch (Refused no) {
            model.addAttribute("version", version);
            show(terms.card(), model);
            return problems.show(model, no, "warranty/terms");
        }
    }

    private void show(Terms.Card card, Model model) {
        Money amount = Money.rounded(BigDecimal.valueOf(200), shops.shop().currency());
        model.addAttribute("card", card);
        model.addAttribute("partExample", Example.of(card.parts(), amount, times.today()));
        model.addAttribute("labourExample", Example.of(card.labour(), amount, times.today()));
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage termsPage() {
            return new SetUpPage(
                    "Warranty terms",
                    "/set-up/terms",
                    "Months and distance on parts and on labour, in full or by share",
                    Set.of(Role.OWNER));
        }
    }
}
