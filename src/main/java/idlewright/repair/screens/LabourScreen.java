package idlewright.repair.screens;

import idlewright.billing.Charges;
import idlewright.billing.Rates;
import idlewright.billing.WorkRates;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.repair.Findings;
import idlewright.repair.Labours;
import idlewright.repair.rules.Pay;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Work done on a thread, and the word that the repair is done. */
@Controller
@For(Role.TECHNICIAN)
class LabourScreen {

    /** What was typed; time is "typed" or "clock-1", pay is "line-12", "kind-1", "hand" or "free". */
    record Form(
            @Nullable String what,
            @Nullable String time,
            @Nullable String hours,
            @Nullable String pay,
            @Nullable String free,
            @Nullable String correction) {}

    private final Labours labours;
    private final Findings findings;
    private final Tickets tickets;
    private final Charges charges;
    private final Rates rates;
    private final WorkRates workRates;
    private final People people;
    private final Problems problems;

    LabourScreen(
            Labours labours,
            Findings findings,
            Tickets tickets,
            Charges charges,
            Rates rates,
            WorkRates workRates,
            People people,
            Problems problems) {
        this.people = people;
        this.workRates = workRates;
        this.labours = labours;
        this.findings = findings;
        this.tickets = tickets;
        this.charges = charges;
        this.rates = rates;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/labour/new")
    String blank(@PathVariable int number, @PathVariable int place, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        var agreed = agreed(ref);
        String comeback = comeback(ref);
        model.addAttribute(
                "form",
                new Form(
                        null,
                        labours.clocked(ref).isEmpty() ? "typed" : "clock-0",
                        null,
                        comeback != null
                                ? "free"
                                : agreed.isEmpty()
                                        ? null
                                        : agreed.keySet().iterator().next(),
                        comeback,
                        null));
        return form(ref, model);
    }

    /** One form, two buttons: keep the work, or keep it and say that the repair is done. */
    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/labour")
    String add(@PathVariable int number, @PathVariable int place, @ModelAttribute("form") Form form, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        try {
            var typing = new Typing();
            boolean work = form.what() != null || form.hours() != null || form.correction() == null;
            if (work) {
                String what = typing.needed("what", form.what(), "Say what was done.");
                String kind = kind(ref, form.time());
                BigDecimal hours = kind != null
                        ? BigDecimal.ONE
                        : typing.neededNumber("hours", form.hours(), "Enter the hours it took, like 0.8.");
                Pay pay = pay(ref.ticket(), typing, form);
                typing.done();
                if (kind != null) {
                    labours.addClocked(ref, what, kind, pay);
                } else {
                    labours.add(ref, what, hours, pay);
                }
            }
            if (form.correction() != null) {
                labours.done(ref, form.correction());
            }
            return Car.back(people, ref.ticket());
        } catch (Refused no) {
            return problems.show(model, no, form(ref, model));
        }
    }

    private String form(SymptomRef ref, Model model) {
        TicketView ticket = tickets.get(ref.ticket());
        var symptom = ticket.symptom(ref.place());
        var pays = new LinkedHashMap<>(agreed(ref));
        int nr = 0;
        for (var kind : workRates.card().kinds()) {
            pays.put(
                    "kind-" + nr++,
                    "by the hour: %s at %s"
                            .formatted(
                                    kind.name(),
                                    workRates.rate(ref.ticket(), kind.name()).text()));
        }
        var times = new LinkedHashMap<String, String>();
        nr = 0;
        for (var clocked : labours.clocked(ref)) {
            times.put(
                    "clock-" + nr++,
                    "%s; %s h for charge"
                            .formatted(
                                    clocked.words(),
                                    clocked.hoursForCharge()
                                            .stripTrailingZeros()
                                            .toPlainString()));
        }
        if (!times.isEmpty()) {
            times.put("typed", "typed below");
        }
        model.addAttribute("times", times);
        model.addAttribute("comeback", comeback(ref));
        pays.put("free", "not charged");
        model.addAttribute("ticket", ticket);
        model.addAttribute("symptom", symptom);
        model.addAttribute("car", Car.of(ticket, ref.place()));
        model.addAttribute("pays", pays);
        model.addAttribute("finding", findings.of(ref).orElse(null));
        model.addAttribute(
                "done",
                labours.of(ref.ticket()).stream()
                        .filter(l -> l.place() == ref.place())
                        .toList());
        return "repair/labour";
    }

    private Map<String, String> agreed(SymptomRef ref) {
        var options = new LinkedHashMap<String, String>();
        charges.uncharged(ref.ticket()).stream()
                .filter(line ->
                        line.line().kind() == LineKind.LABOUR || line.line().kind() == LineKind.SUBLET)
                .filter(line ->
                        line.line().place() == ref.place() || line.line().place() == 0)
                .forEach(line -> options.put(
                        "line-" + line.id(),
                        "as agreed: %s, %s, %s"
                                .formatted(
                                        line.line().what(),
                                        line.line().quantityText(),
                                        line.line().net().text())));
        return options;
    }

    /** The kind of work whose clocked time was chosen; null when the hours are typed. */
    private @Nullable String kind(SymptomRef ref, @Nullable String time) {
        if (time == null || !time.matches("clock-\\d{1,2}")) {
            return null;
        }
        var clocked = labours.clocked(ref);
        int nr = Integer.parseInt(time.substring(6));
        if (nr >= clocked.size()) {
            throw Refused.at("time", "That time is written down already. Choose again.");
        }
        return clocked.get(nr).kind();
    }

    /** Why work on a comeback is not charged; null where the thread is none. */
    private @Nullable String comeback(SymptomRef ref) {
        return Car.comeback(tickets.get(ref.ticket()), ref.place());
    }

    private Pay pay(TicketNumber number, Typing typing, Form form) {
        String pay = form.pay() == null ? "" : form.pay();
        if (pay.matches("line-\\d{1,18}")) {
            return new Pay.ByEstimate(Long.parseLong(pay.substring(5)));
        }
        if (pay.equals("free")) {
            return new Pay.Free(typing.needed("free", form.free(), "Say why it is not charged: comeback, goodwill."));
        }
        if (pay.matches("kind-\\d{1,2}")) {
            var kinds = workRates.card().kinds();
            int nr = Integer.parseInt(pay.substring(5));
            if (nr < kinds.size()) {
                return new Pay.ByHand(workRates.rate(number, kinds.get(nr).name()));
            }
        }
        if (!pay.equals("hand")) {
            typing.wrong("pay", "Choose how it is charged.");
        }
        return new Pay.ByHand(rates.labourRate(number));
    }
}
