package idlewright.billing.screens;

import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.EInvoices;
import idlewright.billing.EstimateView;
import idlewright.billing.InvoiceView;
import idlewright.billing.Invoices;
import idlewright.billing.Invoices.InvoiceLine;
import idlewright.billing.Payments;
import idlewright.billing.Rates;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Remainder.Wish;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.Letters;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ContentDisposition;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The invoice before it is issued, after, and as paper; credit notes; the list of all. */
@Controller
@For({Role.WRITER, Role.OWNER})
class InvoiceScreen {

    private static final int PAGE = 50;

    /** What is taken off, as it was typed. */
    record Less(
            @Nullable String kind,
            @Nullable String what,
            @Nullable String amount) {}

    /** Lines of the estimate that are not on the invoice yet. */
    record Left(int lines, Money sum) {}

    private final Invoices invoices;
    private final EInvoices eInvoices;
    private final Charges charges;
    private final Payments payments;
    private final Authorisations authorisations;
    private final Tickets tickets;
    private final Letters letters;
    private final Rates rates;
    private final People people;
    private final Problems problems;

    InvoiceScreen(
            Invoices invoices,
            EInvoices eInvoices,
            Charges charges,
            Payments payments,
            Authorisations authorisations,
            Tickets tickets,
            Letters letters,
            Rates rates,
            People people,
            Problems problems) {
        this.invoices = invoices;
        this.eInvoices = eInvoices;
        this.charges = charges;
        this.payments = payments;
        this.authorisations = authorisations;
        this.tickets = tickets;
        this.letters = letters;
        this.rates = rates;
        this.people = people;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/invoice")
    String draft(@PathVariable int number, Model model) {
        TicketNumber ticket = new TicketNumber(number);
        var issued = invoices.of(ticket);
        if (issued.isPresent()) {
            return "redirect:/invoices/" + issued.get().number();
        }
        return draft(ticket, model);
    }

    @PostMapping("/tickets/{number:\\d+}/invoices")
    String issue(@PathVariable int number, Model model) {
        TicketNumber ticket = new TicketNumber(number);
        try {
            return "redirect:/invoices/" + invoices.issue(ticket).number();
        } catch (Refused no) {
            draft(ticket, model);
            return problems.show(model, no, "billing/invoice-draft");
        }
    }

    /** Charges a line of the agreed estimate that nobody charged in the bay. */
    @PostMapping("/tickets/{number:\\d+}/charges")
    String charge(@PathVariable int number, @RequestParam long line, Model model) {
        TicketNumber ticket = new TicketNumber(number);
        try {
            charges.addFromEstimate(ticket, line, null, null);
            return "redirect:/tickets/" + number + "/invoice";
        } catch (Refused no) {
            draft(ticket, model);
            return problems.show(model, no, "billing/invoice-draft");
        }
    }

    /** Takes something off at the counter: a discount, or the core that came back. */
    @PostMapping("/tickets/{number:\\d+}/deductions")
    String deduct(@PathVariable int number, @ModelAttribute("less") Less less, Model model) {
        TicketNumber ticket = new TicketNumber(number);
        try {
            var typing = new Typing();
            String kind = typing.needed("kind", less.kind(), "Choose what is taken off.");
            if (!kind.isEmpty() && !deductions().containsKey(kind)) {
                typing.wrong("kind", "Choose what is taken off.");
            }
            String what = typing.needed("what", less.what(), "Say for what, like: for the long wait.");
            if (what.length() > 300) {
                typing.wrong("what", "Use 300 letters at most.");
            }
            BigDecimal amount = typing.neededAmount("amount", less.amount(), "Enter how much, above 0.");
            if (amount.signum() <= 0 || amount.compareTo(new BigDecimal("9999999")) > 0) {
                typing.wrong("amount", "Enter how much, above 0.");
            }
            typing.done();
            var line = Line.typed(
                    0, LineKind.valueOf(kind), what, BigDecimal.ONE, Money.rounded(amount, rates.currency()), null);
            charges.add(ticket, line, null);
            return "redirect:/tickets/" + number + "/invoice";
        } catch (Refused no) {
            draft(ticket, model);
            model.addAttribute("less", less);
            model.addAttribute("wrongForm", "less-");
            return problems.show(model, no, "billing/invoice-draft");
        }
    }

    private static Map<String, String> deductions() {
        var kinds = new LinkedHashMap<String, String>();
        for (LineKind kind : LineKind.values()) {
            if (kind.deduction()) {
                kinds.put(kind.name(), kind.words());
            }
        }
        return kinds;
    }

    @PostMapping("/charges/{id:\\d+}/strike")
    String strike(
            @PathVariable long id,
            @RequestParam int ticket,
            @RequestParam(required = false) @Nullable String reason,
            Model model) {
        try {
            charges.strike(id, reason == null ? "" : reason);
            return "redirect:/tickets/" + ticket + "/invoice";
        } catch (Refused no) {
            draft(new TicketNumber(ticket), model);
            model.addAttribute("wrongForm", "strike-" + id + "-");
            return problems.show(model, no, "billing/invoice-draft");
        }
    }

    @GetMapping("/invoices")
    String list(@RequestParam(required = false) @Nullable String before, Model model) {
        List<InvoiceLine> lines = invoices.latest(before, PAGE + 1);
        model.addAttribute("lines", lines.stream().limit(PAGE).toList());
        model.addAttribute("more", lines.size() > PAGE ? lines.get(PAGE - 1).number() : null);
        return "billing/invoice-list";
    }

    @GetMapping("/invoices/{number:[A-Z0-9]+-\\d+}")
    String invoice(@PathVariable String number, Model model) {
        return show(number, model);
    }

    @GetMapping("/invoices/{number:[A-Z0-9]+-\\d+}.pdf")
    ResponseEntity<byte[]> pdf(@PathVariable String number) {
        return ResponseEntity.ok()
                .contentType(MediaType.APPLICATION_PDF)
                .header(
                        "Content-Disposition",
                        ContentDisposition.inline()
                                .filename(number + ".pdf")
                                .build()
                                .toString())
                .body(invoices.pdf(number));
    }

    @GetMapping("/invoices/{number:[A-Z0-9]+-\\d+}.xml")
    ResponseEntity<byte[]> xml(@PathVariable String number) {
        return ResponseEntity.ok()
                .contentType(MediaType.APPLICATION_XML)
                .header(
                        "Content-Disposition",
                        ContentDisposition.attachment()
                                .filename(number + ".xml")
                                .build()
                                .toString())
                .body(eInvoices.xml(number));
    }

    @PostMapping("/invoices/{number:[A-Z0-9]+-\\d+}/credit")
    @For(Role.OWNER)
    String credit(@PathVariable String number, @RequestParam(required = false) @Nullable String reason, Model model) {
        try {
            return "redirect:/invoices/"
                    + invoices.credit(number, reason == null ? "" : reason).number();
        } catch (Refused no) {
            show(number, model);
            return problems.show(model, no, "billing/invoice");
        }
    }

    /** Credits chosen lines, or a part of one. */
    @PostMapping("/invoices/{number:[A-Z0-9]+-\\d+}/credits")
    @For(Role.OWNER)
    String creditPart(@PathVariable String number, @RequestParam Map<String, String> typed, Model model) {
        try {
            var wishes = wishes(typed, invoices.get(number).total().currency());
            return "redirect:/invoices/"
                    + invoices.credit(number, typed.getOrDefault("reason", ""), wishes)
                            .number();
        } catch (Refused no) {
            show(number, model);
            model.addAttribute("typed", typed);
            model.addAttribute("wrongForm", "part-");
            return problems.show(model, no, "billing/invoice");
        }
    }

    private static final Pattern OF_LINE = Pattern.compile("(?:all|quantity|amount)-(\\d{1,6})");

    private static List<Wish> wishes(Map<String, String> typed, Currency currency) {
        var lines = new TreeSet<Integer>();
        typed.forEach((field, value) -> {
            var of = OF_LINE.matcher(field);
            if (of.matches() && !value.isBlank()) {
                lines.add(Integer.valueOf(of.group(1)));
            }
        });
        var typing = new Typing();
        var wishes = new ArrayList<Wish>();
        for (int nr : lines) {
            BigDecimal quantity = typing.number("quantity-" + nr, typed.get("quantity-" + nr));
            BigDecimal amount = typing.amount("amount-" + nr, typed.get("amount-" + nr));
            boolean all = typed.containsKey("all-" + nr);
            if ((all && (quantity != null || amount != null)) || (quantity != null && amount != null)) {
                typing.wrong(
                        (quantity != null ? "quantity-" : "amount-") + nr,
                        "Say it one way: all of the line, a quantity, or an amount.");
            }
            wishes.add(new Wish(nr, quantity, amount == null ? null : Money.rounded(amount, currency)));
        }
        typing.needed("reason", typed.get("reason"), "Say why it is taken back.");
        typing.done();
        return wishes;
    }

    /** Mails the paper to a customer who agreed to e-mail. */
    @PostMapping("/invoices/{number:[A-Z0-9]+-\\d+}/letter")
    String mail(@PathVariable String number, Model model, RedirectAttributes after) {
        try {
            invoices.mail(number);
            after.addFlashAttribute("notice", "A letter with it is on its way.");
            return "redirect:/invoices/" + number;
        } catch (Refused no) {
            return problems.show(model, no, show(number, model));
        }
    }

    private String show(String number, Model model) {
        InvoiceView invoice = invoices.get(number);
        model.addAttribute("mails", letters.whyNot(tickets.get(invoice.ticket()).customer()) == null);
        model.addAllAttributes(invoices.model(invoice));
        model.addAttribute("payments", payments.of(number));
        model.addAttribute("left", invoice.creditNote() || !people.me().is(Role.OWNER) ? null : invoices.left(number));
        return "billing/invoice";
    }

    /** How much these lines come to, nothing when there are none. */
    private @Nullable Left left(List<Line> lines) {
        return lines.isEmpty()
                ? null
                : new Left(lines.size(), Money.sum(lines.stream().map(Line::net).toList(), rates.currency()));
    }

    private String draft(TicketNumber number, Model model) {
        InvoiceView draft = invoices.draft(number);
        model.addAllAttributes(invoices.model(draft));
        model.addAttribute("ticket", tickets.get(number));
        model.addAttribute("charges", charges.of(number));
        model.addAttribute("agreed", authorisations.agreed(number));
        var uncharged = charges.uncharged(number);
        model.addAttribute("uncharged", uncharged);
        model.addAttribute(
                "left",
                left(uncharged.stream()
                        .map(EstimateView.Written::line)
                        .filter(line -> !line.kind().deduction())
                        .toList()));
        model.addAttribute(
                "promised",
                left(uncharged.stream()
                        .map(EstimateView.Written::line)
                        .filter(line -> line.kind().deduction())
                        .toList()));
        model.addAttribute("less", new Less(LineKind.DISCOUNT_WORK.name(), null, null));
        model.addAttribute("deductions", deductions());
        model.addAttribute("currency", rates.currency().getCurrencyCode());
        model.addAttribute("prices", rates.prices(number).words());
        return "billing/invoice-draft";
    }
}
