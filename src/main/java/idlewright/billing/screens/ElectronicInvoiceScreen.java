package idlewright.billing.screens;

import idlewright.billing.EInvoices;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import java.util.Locale;
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

/** Whether invoices carry an electronic one, and what it needs. */
@Controller
@For(Role.OWNER)
class ElectronicInvoiceScreen {

    /** What the owner typed. */
    record Form(
            @Nullable String wanted,
            @Nullable String country,
            @Nullable String vatId,
            @Nullable String taxNumber,
            @Nullable String email,
            @Nullable String buyerReference,
            @Nullable String untaxedBecause) {

        static Form from(EInvoices.SetUp s) {
            return new Form(
                    s.wanted() ? "true" : null,
                    s.country(),
                    s.vatId(),
                    s.taxNumber(),
                    s.email(),
                    s.buyerReference(),
                    s.untaxedBecause());
        }

        EInvoices.SetUp setUp(int version) {
            return new EInvoices.SetUp(
                    wanted != null,
                    typed(country).toUpperCase(Locale.ROOT),
                    typed(vatId).replaceAll("\\s", "").toUpperCase(Locale.ROOT),
                    typed(taxNumber),
                    typed(email),
                    typed(buyerReference),
                    typed(untaxedBecause),
                    version);
        }

        private static String typed(@Nullable String words) {
            return words == null ? "" : words.strip();
        }
    }

    private final EInvoices eInvoices;
    private final Problems problems;

    ElectronicInvoiceScreen(EInvoices eInvoices, Problems problems) {
        this.eInvoices = eInvoices;
        this.problems = problems;
    }

    @GetMapping("/set-up/e-invoices")
    String setUp(Model model) {
        EInvoices.SetUp now = eInvoices.setUp();
        model.addAttribute("form", Form.from(now));
        model.addAttribute("version", now.version());
        return "billing/electronic-invoice";
    }

    @PostMapping("/set-up/e-invoices")
    String set(@RequestParam int version, @ModelAttribute("form") Form form, Model model) {
        try {
            eInvoices.set(form.setUp(version));
            return "redirect:/set-up";
        } catch (Refused no) {
            model.addAttribute("version", version);
            return problems.show(model, no, "billing/electronic-invoice");
        }
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage eInvoicePage() {
            return new SetUpPage(
                    "Electronic invoices",
                    "/set-up/e-invoices",
                    "Whether invoices carry one that machines read, by EN 16931",
                    Set.of(Role.OWNER));
        }
    }
}
