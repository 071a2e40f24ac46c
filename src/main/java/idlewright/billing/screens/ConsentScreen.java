package idlewright.billing.screens;

import idlewright.billing.Consents;
import idlewright.billing.Rates;
import idlewright.billing.rules.Tolerance;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
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

/** The words with which a customer agrees, and how far charges may pass what is agreed. */
@Controller
@For(Role.OWNER)
class ConsentScreen {

    /** What the owner typed. */
    record Form(
            @Nullable String percent,
            @Nullable String amount,
            @Nullable String cap,
            @Nullable String words) {

        static Form from(Consents.Terms terms, Tolerance tolerance) {
            return new Form(
                    terms.percent().stripTrailingZeros().toPlainString(),
                    tolerance.amount().amount().toPlainString(),
                    tolerance.cap().amount().toPlainString(),
                    terms.words());
        }

        Consents.Terms terms(int version) {
            var typing = new Typing();
            var terms = new Consents.Terms(
                    typing.neededNumber("percent", percent, "Enter the per cent, or 0."),
                    typing.neededAmount("amount", amount, "Enter the amount, or 0."),
                    typing.neededAmount("cap", cap, "Enter the most, or 0 for no such limit."),
                    typing.needed("words", words, "Write the words with which a customer agrees."),
                    version);
            typing.done();
            return terms;
        }
    }

    private final Consents consents;
    private final Rates rates;
    private final Problems problems;

    ConsentScreen(Consents consents, Rates rates, Problems problems) {
        this.consents = consents;
        this.rates = rates;
        this.problems = problems;
    }

    @GetMapping("/set-up/consent")
    String consent(Model model) {
        Consents.Terms terms = consents.terms();
        model.addAttribute("form", Form.from(terms, consents.tolerance()));
        return form(terms.version(), model);
    }

    @PostMapping("/set-up/consent")
    String set(@RequestParam int version, @ModelAttribute("form") Form form, Model model) {
        try {
            consents.set(form.terms(version));
            return "redirect:/set-up";
        } catch (Refused no) {
            return problems.show(model, no, form(version, model));
        }
    }

    private String form(int version, Model model) {
        model.addAttribute("version", version);
        model.addAttribute("currency", rates.currency().getCurrencyCode());
        return "billing/consent";
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage consentPage() {
            return new SetUpPage(
                    "Consent",
                    "/set-up/consent",
                    "The words a customer agrees with, and how far charges may pass what is agreed",
                    Set.of(Role.OWNER));
        }
    }
}
