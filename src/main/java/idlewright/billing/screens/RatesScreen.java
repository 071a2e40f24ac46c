package idlewright.billing.screens;

import idlewright.billing.Rates;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Rounding;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
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

/** The shop's prices, taxes and terms. */
@Controller
@For(Role.OWNER)
class RatesScreen {

    /** What the owner typed. */
    record Form(
            @Nullable String diagnosisFee,
            @Nullable String labourRate,
            @Nullable String partsMarkup,
            @Nullable String taxName,
            @Nullable String taxLabour,
            @Nullable String taxParts,
            @Nullable String taxFees,
            @Nullable String taxSublet,
            @Nullable String prices,
            @Nullable String rounding,
            @Nullable String series,
            @Nullable String dueDays,
            @Nullable String foot) {

        static Form from(Rates.Card c, int digits) {
            return new Form(
                    plain(c.diagnosisFee(), digits),
                    plain(c.labourRate(), digits),
                    c.partsMarkup().stripTrailingZeros().toPlainString(),
                    c.taxName(),
                    c.taxLabour().stripTrailingZeros().toPlainString(),
                    c.taxParts().stripTrailingZeros().toPlainString(),
                    c.taxFees().stripTrailingZeros().toPlainString(),
                    c.taxSublet().stripTrailingZeros().toPlainString(),
                    c.prices().name(),
                    c.rounding().name(),
                    c.series(),
                    Integer.toString(c.dueDays()),
                    c.foot());
        }

        /** As many decimals as the currency has, and more only where there are more. */
        private static String plain(BigDecimal amount, int digits) {
            BigDecimal bare = amount.stripTrailingZeros();
            return (bare.scale() < digits ? bare.setScale(digits) : bare).toPlainString();
        }

        Rates.Card card(int version) {
            var typing = new Typing();
            var card = new Rates.Card(
                    typing.neededAmount("diagnosisFee", diagnosisFee, "Enter the fee."),
                    typing.neededAmount("labourRate", labourRate, "Enter the price of an hour."),
                    typing.neededNumber("partsMarkup", partsMarkup, "Enter the mark-up in per cent, or 0."),
                    typing.needed("taxName", taxName, "Enter what the tax is called on paper."),
                    typing.neededNumber("taxLabour", taxLabour, "Enter the tax on work in per cent, or 0."),
                    typing.neededNumber("taxParts", taxParts, "Enter the tax on parts in per cent, or 0."),
                    typing.neededNumber("taxFees", taxFees, "Enter the tax on fees in per cent, or 0."),
                    typing.neededNumber("taxSublet", taxSublet, "Enter the tax on sublet work in per cent, or 0."),
                    prices(typing),
                    rounding(typing),
                    typing.needed("series", series, "Enter what invoice numbers start with, like A."),
                    typing.neededWhole("dueDays", dueDays, "Enter the days to pay, or 0."),
                    foot == null ? "" : foot,
                    version);
            typing.done();
            return card;
        }

        private Prices prices(Typing typing) {
            return switch (typing.needed("prices", prices, "Choose whether prices hold the tax.")) {
                case "WITH_TAX" -> Prices.WITH_TAX;
                default -> Prices.BEFORE_TAX;
            };
        }

        private Rounding rounding(Typing typing) {
            return switch (typing.needed("rounding", rounding, "Choose where the tax is rounded.")) {
                case "LINE" -> Rounding.LINE;
                default -> Rounding.INVOICE;
            };
        }
    }

    private final Rates rates;
    private final Problems problems;

    RatesScreen(Rates rates, Problems problems) {
        this.rates = rates;
        this.problems = problems;
    }

    @GetMapping("/set-up/rates")
    String rates(Model model) {
        Rates.Card card = rates.card();
        model.addAttribute("form", Form.from(card, Math.max(0, rates.currency().getDefaultFractionDigits())));
        model.addAttribute("version", card.version());
        model.addAttribute("currency", rates.currency().getCurrencyCode());
        return "billing/rates";
    }

    @PostMapping("/set-up/rates")
    String set(@RequestParam int version, @ModelAttribute("form") Form form, Model model) {
        try {
            rates.set(form.card(version));
            return "redirect:/set-up";
        } catch (Refused no) {
            model.addAttribute("version", version);
            model.addAttribute("currency", rates.currency().getCurrencyCode());
            return problems.show(model, no, "billing/rates");
        }
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage ratesPage() {
            return new SetUpPage(
                    "Rates and tax",
                    "/set-up/rates",
                    "Diagnosis fee, labour, mark-up, tax, invoice numbers, terms",
                    Set.of(Role.OWNER));
        }
    }
}
