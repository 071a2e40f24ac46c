package idlewright.billing.screens;

import idlewright.billing.Invoices;
import idlewright.billing.Payments;
import idlewright.billing.Payments.PaymentView;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.Customers;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** The receipt of a move of money, and paying a payment back. */
@Controller
@For({Role.WRITER, Role.OWNER})
class ReceiptScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String amount,
            @Nullable String method,
            @Nullable String note) {}

    private final Payments payments;
    private final Invoices invoices;
    private final Customers customers;
    private final Shops shops;
    private final Problems problems;

    ReceiptScreen(Payments payments, Invoices invoices, Customers customers, Shops shops, Problems problems) {
        this.invoices = invoices;
        this.payments = payments;
        this.customers = customers;
        this.shops = shops;
        this.problems = problems;
    }

    @GetMapping("/receipts/{id:\\d+}")
    String receipt(@PathVariable long id, Model model) {
        PaymentView shown = show(id, model);
        model.addAttribute(
                "form",
                new Form(
                        shown.refundable().amount().toPlainString(), shown.how().name(), null));
        return "billing/receipt";
    }

    @PostMapping("/receipts/{id:\\d+}/refunds")
    String refund(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            var amount = typing.neededAmount("amount", form.amount(), "Enter the amount that is paid back.");
            String method = form.method() == null ? "" : form.method();
            typing.needed("note", form.note(), "Say why it is paid back.");
            typing.done();
            long receipt = payments.refund(
                    id, Money.rounded(amount, payments.get(id).amount().currency()), method, form.note());
            return "redirect:/receipts/" + receipt;
        } catch (Refused no) {
            show(id, model);
            return problems.show(model, no, "billing/receipt");
        }
    }

    private PaymentView show(long id, Model model) {
        List<PaymentView> rows = payments.receipt(id);
        PaymentView first = rows.get(0);
        model.addAttribute("rows", rows);
        model.addAttribute("first", first);
        model.addAttribute(
                "sum",
                Money.sum(
                        rows.stream().map(PaymentView::amount).toList(),
                        first.amount().currency()));
        model.addAttribute("customer", customers.get(first.customerId()));
        model.addAttribute("shop", shops.shop());
        model.addAttribute("invoice", first.invoice() == null ? null : invoices.get(first.invoice()));
        return first;
    }
}
