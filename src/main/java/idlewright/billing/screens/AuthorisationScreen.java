package idlewright.billing.screens;

import idlewright.billing.Authorisations;
import idlewright.billing.Authorisations.AuthorisationView;
import idlewright.billing.Charges;
import idlewright.billing.EstimateView;
import idlewright.billing.EstimateView.Group;
import idlewright.billing.Estimates;
import idlewright.billing.Offers;
import idlewright.billing.Rates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** What the customer agreed to, taken down while they say it. */
@Controller
@For({Role.WRITER, Role.OWNER})
class AuthorisationScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String kind,
            @Nullable String amount,
            @Nullable String words,
            @Nullable String channel,
            @Nullable String byWhom,
            @Nullable String reason,
            @Nullable List<String> groups) {

        /** No box ticked sends nothing: the form says by this that it asked. */
        boolean agreesTo(int place) {
            return groups != null && groups.contains(Integer.toString(place));
        }
    }

    private final Authorisations authorisations;
    private final Charges charges;
    private final Estimates estimates;
    private final Offers offers;
    private final Tickets tickets;
    private final Rates rates;
    private final Problems problems;

    AuthorisationScreen(
            Authorisations authorisations,
            Charges charges,
            Estimates estimates,
            Offers offers,
            Tickets tickets,
            Rates rates,
            Problems problems) {
        this.authorisations = authorisations;
        this.charges = charges;
        this.estimates = estimates;
        this.offers = offers;
        this.tickets = tickets;
        this.rates = rates;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/authorisations/new")
    String blank(@PathVariable int number, Model model) {
        TicketView ticket = tickets.get(new TicketNumber(number));
        model.addAttribute("form", suggested(ticket));
        return form(ticket, model);
    }

    @PostMapping("/tickets/{number:\\d+}/authorisations")
    String agree(
            @PathVariable int number,
            @RequestParam(defaultValue = "false") boolean asked,
            @ModelAttribute("form") Form form,
            Model model) {
        TicketView ticket = tickets.get(new TicketNumber(number));
        try {
            var typing = new Typing();
            Typed typed = read(typing, form);
            String kind = typing.needed("kind", form.kind(), "Choose what was agreed.");
            if (!kind.isEmpty()
                    && Arrays.stream(Agreement.values()).noneMatch(a -> a.name().equals(kind))) {
                typing.wrong("kind", "Choose what was agreed.");
            }
            typing.done();
            keep(ticket, Agreement.valueOf(kind), typed, form, asked);
            return "redirect:" + ticket.number().url();
        } catch (Refused no) {
            form(ticket, model);
            return problems.show(model, no, "billing/authorisation");
        }
    }

    private void keep(TicketView ticket, Agreement kind, Typed typed, Form form, boolean asked) {
        TicketNumber number = ticket.number();
        var estimate =
                kind == Agreement.DIAGNOSIS ? null : estimates.latest(number).orElse(null);
        if (estimate != null && asked && !groups(ticket, estimate).isEmpty()) {
            var agreed = groups(ticket, estimate).keySet().stream()
                    .map(Integer::valueOf)
                    .filter(form::agreesTo)
                    .collect(Collectors.toSet());
            if (agreed.isEmpty()) {
                throw Refused.at(
                        "groups", "Tick what was agreed. If nothing is wanted, end the symptom as not repaired.");
            }
            offers.take(estimate.id(), kind, agreed, typed.amount(), typed.words(), typed.channel(), typed.byWhom());
            return;
        }
        authorisations.agree(
                number,
                kind,
                typed.amount(),
                typed.words(),
                typed.channel(),
                typed.byWhom(),
                estimate == null ? null : estimate.id());
        if (kind == Agreement.DIAGNOSIS) {
            charges.addDiagnosis(number, typed.amount());
        }
    }

    @GetMapping("/authorisations/{id:\\d+}/correction")
    String correcting(@PathVariable long id, Model model) {
        AuthorisationView old = find(id, model);
        model.addAttribute(
                "form",
                new Form(
                        old.kind().name(),
                        old.amount().amount().toPlainString(),
                        old.words(),
                        old.channel().name(),
                        old.byWhom(),
                        null,
                        null));
        return "billing/authorisation";
    }

    @PostMapping("/authorisations/{id:\\d+}/correction")
    String correct(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        find(id, model);
        TicketView ticket = (TicketView) model.getAttribute("ticket");
        try {
            var typing = new Typing();
            Typed typed = read(typing, form);
            String reason = typing.needed("reason", form.reason(), "Say what was wrong with it.");
            typing.done();
            authorisations.correct(id, typed.amount(), typed.words(), typed.channel(), typed.byWhom(), reason);
            return "redirect:" + ticket.number().url();
        } catch (Refused no) {
            return problems.show(model, no, "billing/authorisation");
        }
    }

    private record Typed(Money amount, String words, Channel channel, String byWhom) {}

    private Typed read(Typing typing, Form form) {
        BigDecimal amount = typing.neededAmount("amount", form.amount(), "Enter the amount that was agreed, with tax.");
        String words = typing.needed("words", form.words(), "Write down what was said, like: go ahead.");
        String byWhom = typing.needed("byWhom", form.byWhom(), "Write down who agreed.");
        String channel = typing.needed("channel", form.channel(), "Choose how it was said.");
        if (!channel.isEmpty() && !channels().containsKey(channel)) {
            typing.wrong("channel", "Choose how it was said.");
        }
        return new Typed(
                Money.rounded(amount, rates.currency()),
                words,
                channels().containsKey(channel) ? Channel.valueOf(channel) : Channel.IN_PERSON,
                byWhom);
    }

    private AuthorisationView find(long id, Model model) {
        TicketNumber number = authorisations.ticketOf(id);
        TicketView ticket = tickets.get(number);
        form(ticket, model);
        AuthorisationView old = authorisations.of(number).stream()
                .filter(a -> a.id() == id)
                .findFirst()
                .orElseThrow(() -> NotFound.of("agreement"));
        model.addAttribute("old", old);
        model.addAttribute("amountHint", null);
        return old;
    }

    private Form suggested(TicketView ticket) {
        boolean diagnosed = !authorisations.of(ticket.number()).isEmpty();
        var estimate = estimates.latest(ticket.number());
        String who = ticket.customer().name();
        if (!diagnosed) {
            return new Form("DIAGNOSIS", gross(ticket).amount().toPlainString(), null, "IN_PERSON", who, null, null);
        }
        boolean repaired = authorisations.of(ticket.number()).stream()
                .anyMatch(a -> a.kind() == Agreement.REPAIR && !a.replaced());
        Money before = authorisations.agreedForRepair(ticket.number());
        var ticked = estimate.map(e -> groups(ticket, e).entrySet().stream()
                        .filter(group -> !group.getValue().standing().declined())
                        .map(Map.Entry::getKey)
                        .toList())
                .orElse(List.of());
        Money whole = estimate.map(e -> asked(ticket, e, ticked)).orElse(null);
        boolean less = whole != null && before.isMoreThan(whole);
        String amount = whole == null
                ? ""
                : (less ? whole : whole.minus(before)).amount().toPlainString();
        return new Form(less ? "INSTEAD" : repaired ? "RISE" : "REPAIR", amount, null, "PHONE", who, null, ticked);
    }

    /** What is agreed to and what is ticked come to; what was declined is no part of it, unless nothing else is there. */
    private Money asked(TicketView ticket, EstimateView estimate, List<String> ticked) {
        if (ticked.isEmpty()) {
            return estimate.total().gross();
        }
        return Total.of(
                        estimate.groups().stream()
                                .filter(group ->
                                        group.standing().agreed() || ticked.contains(Integer.toString(group.place())))
                                .flatMap(group -> group.bare().stream())
                                .toList(),
                        rates.taxes(ticket.number()),
                        rates.currency())
                .gross();
    }

    /** The shop's fee for finding the cause, as this customer pays it. */
    private Money gross(TicketView ticket) {
        return Total.of(
                        List.of(new Line(
                                0, LineKind.DIAGNOSIS, "Diagnosis", BigDecimal.ONE, rates.diagnosisFee(), null)),
                        rates.taxes(ticket.customer()),
                        rates.currency())
                .gross();
    }

    private String form(TicketView ticket, Model model) {
        model.addAttribute("ticket", ticket);
        model.addAttribute("currency", rates.currency().getCurrencyCode());
        model.addAttribute("agreed", authorisations.agreed(ticket.number()));
        EstimateView estimate = estimates.latest(ticket.number()).orElse(null);
        model.addAttribute("estimate", estimate);
        model.addAttribute("groups", estimate == null ? Map.of() : words(ticket, estimate));
        model.addAttribute("channels", channels());
        model.addAttribute("kinds", kinds(ticket));
        model.addAttribute("amountHint", hint(ticket, estimate));
        return "billing/authorisation";
    }

    private String hint(TicketView ticket, @Nullable EstimateView estimate) {
        if (authorisations.of(ticket.number()).isEmpty()) {
            return "The shop's fee of %s for finding the cause%s."
                    .formatted(
                            rates.diagnosisFee().text(),
                            gross(ticket).isMoreThan(rates.diagnosisFee()) ? ", and tax" : "");
        }
        return "This agreement alone%s; it is added to what was agreed before, unless it is a sum instead of that."
                .formatted(estimate == null || groups(ticket, estimate).isEmpty() ? "" : ", for what is ticked");
    }

    /** The groups that are not agreed and not ended, by place: a mind may change about what was declined. */
    private static Map<String, Group> groups(TicketView ticket, EstimateView estimate) {
        var groups = new LinkedHashMap<String, Group>();
        estimate.groups().stream()
                .filter(group -> !group.standing().agreed())
                .filter(group ->
                        group.place() == 0 || !ticket.symptom(group.place()).ended())
                .forEach(group -> groups.put(Integer.toString(group.place()), group));
        return groups;
    }

    private static Map<String, String> words(TicketView ticket, EstimateView estimate) {
        var options = new LinkedHashMap<String, String>();
        groups(ticket, estimate)
                .forEach((place, group) -> options.put(
                        place,
                        "%s, %s with tax"
                                .formatted(
                                        group.place() == 0
                                                ? "The visit"
                                                : ticket.symptom(group.place()).kindName(),
                                        group.total().gross().text())));
        return options;
    }

    private static Map<String, String> channels() {
        var options = new LinkedHashMap<String, String>();
        for (Channel channel : Channel.values()) {
            if (channel != Channel.LINK) {
                options.put(channel.name(), channel.words());
            }
        }
        return options;
    }

    /** A sum can only take the place of one that was agreed before. */
    private Map<String, String> kinds(TicketView ticket) {
        boolean before = authorisations.agreedForRepair(ticket.number()).isPositive();
        var options = new LinkedHashMap<String, String>();
        for (Agreement kind : Agreement.values()) {
            if (before || kind != Agreement.INSTEAD) {
                options.put(kind.name(), kind.words());
            }
        }
        return options;
    }
}
