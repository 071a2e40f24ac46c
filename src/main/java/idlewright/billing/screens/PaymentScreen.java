package idlewright.billing.screens;

import idlewright.billing.Credits;
import idlewright.billing.InvoiceView;
import idlewright.billing.Invoices;
import idlewright.billing.Payments;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Takes a payment. */
@Controller
@For({Role.WRITER, Role.OWNER})
class PaymentScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String amount,
            @Nullable String method,
            @Nullable String note,
            @Nullable String keep) {}

    private final Payments payments;
    private final Invoices invoices;
    private final Credits credits;
    private final Tickets tickets;
    private final Problems problems;

    PaymentScreen(Payments payments, Invoices invoices, Credits credits, Tickets tickets, Problems problems) {
        this.credits = credits;
        this.tickets = tickets;
        this.payments = payments;
        this.invoices = invoices;
        this.problems = problems;
    }

    @GetMapping("/invoices/{number:[A-Z0-9]+-\\d+}/payments/new")
    String blank(@PathVariable String number, Model model) {
        InvoiceView invoice = show(number, model);
        model.addAttribute("form", new Form(invoice.owed().amount().toPlainString(), "CARD", null, null));
        return "billing/payment";
    }

    @PostMapping("/invoices/{number:[A-Z0-9]+-\\d+}/payments")
    String take(@PathVariable String number, @ModelAttribute("form") Form form, Model model) {
        InvoiceView invoice = invoices.get(number);
        try {
            var typing = new Typing();
            var amount = typing.neededAmount("amount", form.amount(), "Enter the amount that was paid.");
            String method = typing.needed("method", form.method(), "Choose how it was paid.");
            typing.done();
            long receipt = payments.take(
                    number,
                    Money.rounded(amount, invoice.total().currency()),
                    method,
                    form.note(),
                    "true".equals(form.keep()));
            return "redirect:/receipts/" + receipt;
        } catch (Refused no) {
            show(number, model);
            return problems.show(model, no, "billing/payment");
        }
    }

    @PostMapping("/invoices/{number:[A-Z0-9]+-\\d+}/payments/from-credit")
    String fromCredit(@PathVariable String number, @ModelAttribute("form") Form form, Model model) {
        InvoiceView invoice = invoices.get(number);
        try {
            var typing = new Typing();
            var amount = typing.neededAmount("amount", form.amount(), "Enter how much of the credit is used.");
            typing.done();
            payments.useCredit(number, Money.rounded(amount, invoice.total().currency()));
            return "redirect:/invoices/" + number;
        } catch (Refused no) {
            show(number, model);
            model.addAttribute("wrongForm", "credit-");
            return problems.show(model, no, "billing/payment");
        }
    }

    private InvoiceView show(String number, Model model) {
        InvoiceView invoice = invoices.get(number);
        Money credit = credits.credit(tickets.get(invoice.ticket()).customer().id());
        model.addAttribute("invoice", invoice);
        model.addAttribute("credit", credit);
        model.addAttribute("usable", credit.isMoreThan(invoice.owed()) ? invoice.owed() : credit);
        return invoice;
    }
}
