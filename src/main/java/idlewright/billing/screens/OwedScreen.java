package idlewright.billing.screens;

import idlewright.billing.Ledger;
import idlewright.billing.rules.Age;
import idlewright.frame.NotFound;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Who owes what since when; each figure opens its invoices. */
@Controller
@For({Role.WRITER, Role.OWNER})
class OwedScreen {

    private final Ledger ledger;

    OwedScreen(Ledger ledger) {
        this.ledger = ledger;
    }

    @GetMapping("/owed")
    String owed(Model model) {
        model.addAttribute("ageing", ledger.ageing());
        model.addAttribute("ages", Age.values());
        return "billing/owed";
    }

    @GetMapping("/owed/invoices")
    String list(
            @RequestParam(required = false) @Nullable String age,
            @RequestParam(required = false) @Nullable Long customer,
            Model model) {
        Age of = age == null || age.isBlank() ? null : age(age);
        List<Ledger.Debt> debts = ledger.debts(customer).stream()
                .filter(debt -> of == null || debt.age() == of)
                .toList();
        model.addAttribute("debts", debts);
        model.addAttribute("age", of);
        model.addAttribute(
                "whose",
                customer == null || debts.isEmpty() ? null : debts.get(0).customer());
        model.addAttribute(
                "sum",
                debts.isEmpty()
                        ? null
                        : Money.sum(
                                debts.stream().map(Ledger.Debt::owed).toList(),
                                debts.get(0).owed().currency()));
        return "billing/owed-list";
    }

    private static Age age(String name) {
        try {
            return Age.valueOf(name.toUpperCase(Locale.ROOT));
        } catch (IllegalArgumentException e) {
            throw NotFound.of("list");
        }
    }
}
