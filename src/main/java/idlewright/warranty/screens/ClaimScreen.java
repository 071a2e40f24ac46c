package idlewright.warranty.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Typing;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Swaps;
import idlewright.warranty.ClaimView;
import idlewright.warranty.Claims;
import idlewright.warranty.DossierView;
import idlewright.warranty.Dossiers;
import idlewright.warranty.Recovery;
import idlewright.warranty.rules.ClaimStep;
import java.math.BigDecimal;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Claims to suppliers: what is asked, what came, and what has not. */
@Controller
@For({Role.WRITER, Role.OWNER})
class ClaimScreen {

    /** What was typed of a claim. */
    record Form(
            @Nullable String ticket,
            @Nullable String place,
            @Nullable String supplier,
            @Nullable String part,
            @Nullable String amount,
            @Nullable String dossier,
            @Nullable String swap) {}

    /** What was typed of a step. */
    record StepForm(
            @Nullable String kind,
            @Nullable String amount,
            @Nullable String note,
            @Nullable String dossier) {}

    private final Claims claims;
    private final Dossiers dossiers;
    private final Tickets tickets;
    private final Swaps swaps;
    private final Recovery recovery;
    private final Times times;
    private final Problems problems;

    ClaimScreen(
            Claims claims,
            Dossiers dossiers,
            Tickets tickets,
            Swaps swaps,
            Recovery recovery,
            Times times,
            Problems problems) {
        this.times = times;
        this.recovery = recovery;
        this.claims = claims;
        this.dossiers = dossiers;
        this.tickets = tickets;
        this.swaps = swaps;
        this.problems = problems;
    }

    @GetMapping("/claims")
    String list(
            @RequestParam(required = false) @Nullable String supplier,
            @RequestParam(required = false) @Nullable String show,
            Model model) {
        var all = claims.open();
        var open = all.stream()
                .filter(claim -> recovery.is(supplier, claim.supplier()))
                .filter(claim -> !"unsent".equals(show) || claim.sentAt() == null)
                .toList();
        var currency = claims.currency();
        model.addAttribute("open", open);
        model.addAttribute(
                "over",
                "unsent".equals(show)
                        ? List.of()
                        : claims.over().stream()
                                .filter(claim -> recovery.is(supplier, claim.supplier()))
                                .toList());
        var owing = recovery.owing(all).stream()
                .filter(one -> recovery.is(supplier, one.supplier()))
                .toList();
        model.addAttribute("owing", show == null ? owing : List.of());
        model.addAttribute("owed", recovery.together(owing));
        model.addAttribute(
                "foreign",
                open.stream()
                        .filter(claim -> !claim.amount().currency().equals(currency))
                        .count());
        model.addAttribute("supplier", supplier);
        model.addAttribute("show", show);
        model.addAttribute("recovery", recovery);
        model.addAttribute("currency", currency);
        model.addAttribute(
                "listed",
                Money.sum(
                        open.stream()
                                .map(ClaimView::missing)
                                .filter(money -> money.currency().equals(currency))
                                .toList(),
                        currency));
        return "warranty/claim-list";
    }

    @GetMapping("/claims.csv")
    ResponseEntity<byte[]> table(@RequestParam(required = false) @Nullable String supplier) {
        return ResponseEntity.ok()
                .contentType(MediaType.parseMediaType("text/csv;charset=UTF-8"))
                .header("Content-Disposition", "attachment; filename=\"claims.csv\"")
                .body(recovery.claimsTable(supplier));
    }

    @GetMapping("/claims/new")
    String making(
            @RequestParam(required = false) @Nullable String dossier,
            @RequestParam(required = false) @Nullable String ticket,
            @RequestParam(required = false) @Nullable String place,
            @RequestParam(required = false) @Nullable String swap,
            Model model) {
        if (dossier != null) {
            var sealed = dossiers.get(dossier);
            model.addAttribute("form", from("" + sealed.ticket(), "" + sealed.place(), sealed.code(), swap));
        } else {
            model.addAttribute("form", from(ticket, place, null, swap));
        }
        return form(model);
    }

    /** With what the swap tells of the part and its supplier. */
    private Form from(
            @Nullable String ticket, @Nullable String place, @Nullable String dossier, @Nullable String swap) {
        if (swap == null || !swap.matches("\\d{1,18}")) {
            return new Form(ticket, place, null, null, null, dossier, null);
        }
        var fitted = swaps.get(Long.parseLong(swap));
        return new Form(
                "" + fitted.thread().ticket(),
                "" + fitted.thread().place(),
                fitted.fitted().supplier(),
                fitted.fitted().what() + ", " + fitted.fitted().number(),
                null,
                dossier,
                swap);
    }

    @PostMapping("/claims")
    String make(@ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            int number = typing.neededWhole("ticket", form.ticket(), "Enter the ticket's number.");
            Integer place = typing.whole("place", form.place());
            String supplier = typing.needed("supplier", form.supplier(), "Say who is to pay.");
            String part = typing.needed("part", form.part(), "Say what it is about: the part and its number.");
            BigDecimal amount = typing.neededAmount("amount", form.amount(), "Enter the amount that is asked.");
            String swap = form.swap();
            typing.done();
            var ticket = TicketNumber.typed("" + number)
                    .orElseThrow(() -> Refused.at("ticket", "Enter the ticket's number, like 1042."));
            check(ticket, place);
            long id = claims.make(
                    ticket,
                    place == null ? 0 : place,
                    supplier,
                    part,
                    Money.rounded(amount, claims.currency()),
                    form.dossier() == null
                            ? null
                            : form.dossier().toUpperCase(Locale.ROOT).replace("V", "v"),
                    swap != null && swap.matches("\\d{1,18}") ? Long.valueOf(swap) : null);
            return "redirect:/claims/" + id;
        } catch (Refused no) {
            return problems.show(model, no, form(model));
        }
    }

    private void check(TicketNumber ticket, @Nullable Integer place) {
        try {
            var view = tickets.get(ticket);
            if (place != null && place > 0) {
                view.symptom(place);
            }
        } catch (idlewright.frame.NotFound no) {
            throw Refused.at("ticket", no.getMessage());
        }
    }

    @GetMapping("/claims/{id:\\d+}")
    String claim(@PathVariable long id, Model model) {
        model.addAttribute("form", new StepForm(null, null, null, null));
        return show(id, model);
    }

    @PostMapping("/claims/{id:\\d+}/steps")
    String step(@PathVariable long id, @ModelAttribute("form") StepForm form, Model model) {
        try {
            var typing = new Typing();
            String kind = typing.needed("kind", form.kind(), "Choose what happened.");
            BigDecimal amount = typing.amount("amount", form.amount());
            if (!steps().containsKey(kind)) {
                typing.wrong("kind", "Choose what happened.");
            }
            typing.done();
            claims.step(
                    id,
                    ClaimStep.valueOf(kind),
                    amount == null
                            ? null
                            : Money.rounded(amount, claims.get(id).amount().currency()),
                    form.note() == null ? "" : form.note(),
                    form.dossier());
            return "redirect:/claims/" + id;
        } catch (Refused no) {
            return problems.show(model, no, show(id, model));
        }
    }

    @PostMapping("/claims/{id:\\d+}/dossier")
    String join(@PathVariable long id, @ModelAttribute("form") StepForm form, Model model) {
        try {
            var typing = new Typing();
            String code = typing.needed("dossier", form.dossier(), "Choose the dossier that goes with the claim.");
            typing.done();
            claims.join(id, code);
            return "redirect:/claims/" + id;
        } catch (Refused no) {
            model.addAttribute("wrongForm", "join-");
            return problems.show(model, no, show(id, model));
        }
    }

    private String show(long id, Model model) {
        ClaimView claim = claims.get(id);
        model.addAttribute("claim", claim);
        model.addAttribute("days", recovery.days(claim));
        var possible = steps();
        var before = claim.steps().stream().map(ClaimView.Step::kind).toList();
        possible.keySet().removeIf(kind -> !ClaimStep.valueOf(kind).mayFollow(before));
        model.addAttribute("kinds", possible);
        var sealed = new LinkedHashMap<String, String>();
        dossiers.of(claim.ticket()).stream()
                .filter(dossier ->
                        dossier.replacedBy() == null || dossier.code().equals(claim.dossier()))
                .sorted(Comparator.comparing(DossierView::sealedAt).reversed())
                .forEach(dossier -> sealed.put(
                        dossier.code(), "%s, sealed %s".formatted(dossier.code(), times.day(dossier.sealedAt()))));
        model.addAttribute("sealed", sealed);
        return "warranty/claim";
    }

    private String form(Model model) {
        model.addAttribute("currency", claims.currency().getCurrencyCode());
        return "warranty/claim-form";
    }

    private static Map<String, String> steps() {
        var steps = new LinkedHashMap<String, String>();
        steps.put("SENT", "It was sent");
        steps.put("GRANTED", "They will pay");
        steps.put("PAID", "Money came");
        steps.put("REFUSED", "They refused");
        steps.put("DROPPED", "The rest is written off");
        return steps;
    }
}
