package idlewright.billing.screens;

import idlewright.billing.Credits;
import idlewright.billing.Payments;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Deposits on a ticket, before its invoice. */
@Controller
@For({Role.WRITER, Role.OWNER})
class DepositScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String amount,
            @Nullable String method,
            @Nullable String note) {}

    private final Credits credits;
    private final Payments payments;
    private final Tickets tickets;
    private final Shops shops;
    private final Problems problems;

    DepositScreen(Credits credits, Payments payments, Tickets tickets, Shops shops, Problems problems) {
        this.credits = credits;
        this.payments = payments;
        this.tickets = tickets;
        this.shops = shops;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/deposits")
    String deposits(@PathVariable int number, Model model) {
        model.addAttribute("form", new Form(null, "CARD", null));
        return show(new TicketNumber(number), model);
    }

    @PostMapping("/tickets/{number:\\d+}/deposits")
    String take(@PathVariable int number, @ModelAttribute("form") Form form, Model model) {
        TicketNumber ticket = new TicketNumber(number);
        try {
            return "redirect:/receipts/"
                    + credits.deposit(ticket, amount(form, "Enter the deposit."), method(form), form.note());
        } catch (Refused no) {
            show(ticket, model);
            model.addAttribute("wrongForm", "in-");
            return problems.show(model, no, "billing/deposit");
        }
    }

    @PostMapping("/tickets/{number:\\d+}/deposits/giving-back")
    String giveBack(@PathVariable int number, @ModelAttribute("form") Form form, Model model) {
        TicketNumber ticket = new TicketNumber(number);
        try {
            return "redirect:/receipts/"
                    + credits.giveBack(
                            ticket, amount(form, "Enter the amount that is given back."), method(form), form.note());
        } catch (Refused no) {
            show(ticket, model);
            model.addAttribute("wrongForm", "out-");
            return problems.show(model, no, "billing/deposit");
        }
    }

    private Money amount(Form form, String ifEmpty) {
        var typing = new Typing();
        var amount = typing.neededAmount("amount", form.amount(), ifEmpty);
        typing.needed("method", form.method(), "Choose how it is paid.");
        typing.done();
        return Money.rounded(amount, shops.shop().currency());
    }

    private static String method(Form form) {
        return form.method() == null ? "" : form.method();
    }

    private String show(TicketNumber number, Model model) {
        model.addAttribute("ticket", tickets.get(number));
        model.addAttribute("moves", payments.depositsOf(number));
        model.addAttribute("held", credits.heldFor(number));
        return "billing/deposit";
    }
}
