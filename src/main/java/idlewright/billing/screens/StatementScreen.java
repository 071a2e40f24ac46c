package idlewright.billing.screens;

import idlewright.billing.Credits;
import idlewright.billing.Ledger;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** A customer's statement, to print or to take along, and the credit that can be paid out. */
@Controller
@For({Role.WRITER, Role.OWNER})
class StatementScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String amount,
            @Nullable String method,
            @Nullable String note) {}

    private final Ledger ledger;
    private final Credits credits;
    private final Shops shops;
    private final Times times;
    private final Problems problems;

    StatementScreen(Ledger ledger, Credits credits, Shops shops, Times times, Problems problems) {
        this.ledger = ledger;
        this.credits = credits;
        this.shops = shops;
        this.times = times;
        this.problems = problems;
    }

    @GetMapping("/customers/{id:\\d+}/statement")
    String statement(
            @PathVariable long id,
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to,
            Model model) {
        try {
            show(id, span(from, to), model);
            return "billing/statement";
        } catch (Refused no) {
            show(id, span(null, null), model);
            model.addAttribute("from", from);
            model.addAttribute("to", to);
            return problems.show(model, no, "billing/statement");
        }
    }

    @GetMapping("/customers/{id:\\d+}/statement.csv")
    ResponseEntity<byte[]> table(
            @PathVariable long id,
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to) {
        Span span = span(from, to);
        return ExportScreen.csv(
                "statement-%d-%s.csv".formatted(id, span.to()),
                ledger.table(ledger.statement(id, span.from(), span.to())));
    }

    @PostMapping("/customers/{id:\\d+}/pay-outs")
    String payOut(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            var amount = typing.neededAmount("amount", form.amount(), "Enter the amount that is paid back.");
            String method = typing.needed("method", form.method(), "Choose how it is paid back.");
            typing.done();
            long receipt = credits.payOut(id, Money.rounded(amount, shops.shop().currency()), method, form.note());
            return "redirect:/receipts/" + receipt;
        } catch (Refused no) {
            show(id, span(null, null), model);
            model.addAttribute("wrongForm", "out-");
            return problems.show(model, no, "billing/statement");
        }
    }

    private Span span(@Nullable String from, @Nullable String to) {
        LocalDate today = times.today();
        return Span.read(from, to, today.minusMonths(12).withDayOfMonth(1), today);
    }

    private void show(long id, Span span, Model model) {
        var statement = ledger.statement(id, span.from(), span.to());
        model.addAttribute("statement", statement);
        model.addAttribute("shop", shops.shop());
        model.addAttribute("from", span.from().toString());
        model.addAttribute("to", span.to().toString());
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new Form(statement.credit().amount().toPlainString(), "CASH", null));
        }
    }
}
