package idlewright.repair.screens;

import idlewright.billing.Charges;
import idlewright.billing.Rates;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.journal.Marks;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.PartsNotAsAgreed;
import idlewright.repair.SwapView;
import idlewright.repair.Swaps;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.NumberGround;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.io.IOException;
import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A part out and a part in: what they are, whether they match, the checks, and when it is final. */
@Controller
@For(Role.TECHNICIAN)
class SwapScreen {

    /** The two parts as typed; pay is "line-12", "hand" or "free". */
    record Form(
            @Nullable String what,
            @Nullable String oldNumber,
            @Nullable String oldMaker,
            @Nullable String dateCode,
            @Nullable String condition,
            @Nullable String went,
            @Nullable String number,
            @Nullable String maker,
            @Nullable String serial,
            @Nullable String supplier,
            @Nullable String cost,
            @Nullable String trial,
            @Nullable String pay,
            @Nullable String price,
            @Nullable String free) {}

    /** Why a part with another number is right, as typed. */
    record GroundForm(
            @Nullable String kind,
            @Nullable String source,
            @Nullable String reason,
            @Nullable String byWhom,
            @Nullable String how) {}

    private final Swaps swaps;
    private final PartsNotAsAgreed notAsAgreed;
    private final Tickets tickets;
    private final Charges charges;
    private final Rates rates;
    private final Marks marks;
    private final People people;
    private final Problems problems;

    SwapScreen(
            Swaps swaps,
            PartsNotAsAgreed notAsAgreed,
            Tickets tickets,
            Charges charges,
            Rates rates,
            Marks marks,
            People people,
            Problems problems) {
        this.people = people;
        this.swaps = swaps;
        this.notAsAgreed = notAsAgreed;
        this.marks = marks;
        this.tickets = tickets;
        this.charges = charges;
        this.rates = rates;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/swaps/new")
    String blank(@PathVariable int number, @PathVariable int place, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        var agreed = parts(ref);
        String comeback = Car.comeback(tickets.get(ref.ticket()), place);
        String pay = comeback != null
                ? "free"
                : agreed.isEmpty() ? null : agreed.keySet().iterator().next();
        String what = agreed.size() == 1 ? whatOf(ref) : null;
        model.addAttribute(
                "form",
                new Form(
                        what, null, null, null, null, null, null, null, null, null, null, "final", pay, null,
                        comeback));
        return form(ref, model);
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/swaps")
    String start(@PathVariable int number, @PathVariable int place, @ModelAttribute("form") Form form, Model model) {
        SymptomRef ref = SymptomRef.of(number, place);
        try {
            var typing = new Typing();
            typing.needed("what", form.what(), "Say what the part is, like: air-flow sensor.");
            typing.needed("condition", form.condition(), "Say what the old part looked like.");
            Went went = went(typing, "went", form.went());
            typing.needed(
                    "number", form.number(), "Type the number as it is printed on the part, not as it was ordered.");
            typing.needed("maker", form.maker(), "Say who made it; the maker matters when parts fail.");
            typing.needed("supplier", form.supplier(), "Say who supplied it; a claim goes to them.");
            BigDecimal cost = typing.amount("cost", form.cost());
            Pay pay = pay(ref.ticket(), typing, form, cost);
            typing.done();
            long id = swaps.start(
                    ref,
                    new RemovedPart(form.oldNumber(), form.oldMaker(), form.dateCode(), text(form.condition()), went),
                    new FittedPart(
                            text(form.what()),
                            text(form.number()),
                            text(form.maker()),
                            form.serial(),
                            text(form.supplier()),
                            cost == null ? null : Money.rounded(cost, rates.currency())),
                    "trial".equals(form.trial()),
                    pay);
            return "redirect:/swaps/" + id;
        } catch (Refused no) {
            return problems.show(model, no, form(ref, model));
        }
    }

    @GetMapping("/swaps/{id:\\d+}")
    @For({Role.TECHNICIAN, Role.WRITER, Role.OWNER})
    String swap(@PathVariable long id, Model model) {
        model.addAttribute("form", new GroundForm(null, null, null, null, null));
        return page(id, model);
    }

    /** The old part and the fitted one beside each other, to look at and to print. */
    @GetMapping("/swaps/{id:\\d+}/compare")
    @For({Role.TECHNICIAN, Role.WRITER, Role.OWNER})
    String compare(@PathVariable long id, Model model) {
        page(id, model);
        return "repair/swap-compare";
    }

    @PostMapping("/swaps/{id:\\d+}/number")
    String account(@PathVariable long id, @ModelAttribute("form") GroundForm form, Model model) {
        try {
            NumberGround ground = switch (text(form.kind())) {
                case "supersession" -> new NumberGround.Supersession(text(form.source()));
                case "consent" -> new NumberGround.Consent(text(form.reason()), text(form.byWhom()), text(form.how()));
                default -> throw Refused.at("ground", "Choose why this number is right.");
            };
            swaps.account(id, ground);
            return "redirect:/swaps/" + id;
        } catch (Refused no) {
            return problems.show(model, no, page(id, model));
        }
    }

    @PostMapping("/swaps/{id:\\d+}/photos")
    String photograph(
            @PathVariable long id,
            @RequestParam(required = false) @Nullable MultipartFile camera,
            @RequestParam(required = false) @Nullable MultipartFile file,
            @RequestParam(required = false) @Nullable String part,
            Model model)
            throws IOException {
        try {
            MultipartFile photo = camera == null || camera.isEmpty() ? file : camera;
            if (photo == null || photo.isEmpty()) {
                throw Refused.at("file", "Take a photo, or choose one.");
            }
            if (!"removed".equals(part) && !"fitted".equals(part)) {
                throw Refused.at("part", "Choose which part it shows.");
            }
            try (var bytes = photo.getInputStream()) {
                String name = photo.getOriginalFilename();
                swaps.photograph(id, "removed".equals(part), bytes, name == null || name.isBlank() ? "photo" : name);
            }
            return "redirect:/swaps/" + id;
        } catch (Refused no) {
            model.addAttribute("form", new GroundForm(null, null, null, null, null));
            return problems.show(model, no, page(id, model));
        }
    }

    @GetMapping("/swaps/{id:\\d+}/checks")
    String checks(@PathVariable long id, Model model) {
        if (!swaps.get(id).open()) {
            return "redirect:/swaps/" + id;
        }
        var typed = new LinkedHashMap<String, String>();
        swaps.get(id).answers().forEach((check, answer) -> {
            typed.put("check-" + check.name(), answer.seen().name());
            typed.put("words-" + check.name(), answer.words());
        });
        return checkForm(id, typed, model);
    }

    @PostMapping("/swaps/{id:\\d+}/checks")
    String answer(
            @PathVariable long id, @RequestParam Map<String, String> typed, Model model, RedirectAttributes after) {
        try {
            var answers = new EnumMap<Check, Answer>(Check.class);
            for (Check check : Check.values()) {
                String seen = typed.get("check-" + check.name());
                for (Answer.Seen each : Answer.Seen.values()) {
                    if (each.name().equals(seen)) {
                        answers.put(check, new Answer(each, typed.getOrDefault("words-" + check.name(), "")));
                    }
                }
            }
            swaps.answer(id, answers);
            after.addFlashAttribute(
                    "notice",
                    swaps.against(swaps.get(id)).isEmpty()
                            ? "Everything is answered. Look at it once more, then call it final."
                            : "Kept.");
            return "redirect:/swaps/" + id;
        } catch (Refused no) {
            return problems.show(model, no, checkForm(id, typed, model));
        }
    }

    @PostMapping("/swaps/{id:\\d+}/final")
    String makeFinal(@PathVariable long id, Model model, RedirectAttributes after) {
        try {
            swaps.makeFinal(id);
            SwapView swap = swaps.get(id);
            after.addFlashAttribute(
                    "notice", swap.fitted().what() + " " + swap.fitted().number() + " is final.");
            return Car.back(people, swap.thread().ticket());
        } catch (Refused no) {
            model.addAttribute("form", new GroundForm(null, null, null, null, null));
            return problems.show(model, shortly(no.problems()), page(id, model));
        }
    }

    @PostMapping("/swaps/{id:\\d+}/taken-back")
    String takeBack(@PathVariable long id, @RequestParam(required = false) @Nullable String because, Model model) {
        try {
            swaps.takeBack(id, text(because));
            return Car.back(people, swaps.get(id).thread().ticket());
        } catch (Refused no) {
            model.addAttribute("form", new GroundForm(null, null, null, null, null));
            model.addAttribute("because", because);
            return problems.show(model, no, page(id, model));
        }
    }

    @PostMapping("/swaps/{id:\\d+}/old-part")
    @For({Role.TECHNICIAN, Role.WRITER})
    String moveOldPart(
            @PathVariable long id,
            @RequestParam(required = false) @Nullable String went,
            @RequestParam(required = false) @Nullable String where,
            Model model) {
        try {
            var typing = new Typing();
            Went now = went(typing, "went", went);
            typing.done();
            swaps.moveOldPart(id, now, text(where));
            return "redirect:/swaps/" + id;
        } catch (Refused no) {
            model.addAttribute("form", new GroundForm(null, null, null, null, null));
            return problems.show(model, no, page(id, model));
        }
    }

    /** Ten open checks in one line, so that the page stays in sight. */
    private static Map<String, String> shortly(Map<String, String> problems) {
        var open = problems.entrySet().stream()
                .filter(each ->
                        each.getKey().startsWith("check-") && each.getValue().startsWith("Answer “"))
                .map(Map.Entry::getKey)
                .toList();
        if (open.size() < 3) {
            return problems;
        }
        var shorter = new LinkedHashMap<>(problems);
        open.forEach(shorter::remove);
        shorter.put(open.get(0), "Answer the checks: %d are open.".formatted(open.size()));
        return shorter;
    }

    private String form(SymptomRef ref, Model model) {
        TicketView ticket = told(ref, model);
        var pays = new LinkedHashMap<>(parts(ref));
        pays.put("hand", "by hand");
        pays.put("free", "not charged");
        model.addAttribute("ticket", ticket);
        model.addAttribute("symptom", ticket.symptom(ref.place()));
        model.addAttribute("pays", pays);
        model.addAttribute("wents", wents());
        model.addAttribute("currency", rates.currency().getCurrencyCode());
        model.addAttribute(
                "markup", rates.card().partsMarkup().stripTrailingZeros().toPlainString());
        model.addAttribute("prices", rates.prices(ref.ticket()).words());
        return "repair/swap-form";
    }

    private String page(long id, Model model) {
        SwapView swap = swaps.get(id);
        TicketView ticket = told(swap.thread(), model);
        model.addAttribute("swap", swap);
        model.addAttribute(
                "marked",
                marks.on(swap.photos().stream().map(SwapView.Photo::exhibit).toList()));
        model.addAttribute("ticket", ticket);
        model.addAttribute("symptom", ticket.symptom(swap.thread().place()));
        model.addAttribute("checks", Check.values());
        model.addAttribute("otherwise", notAsAgreed.of(swap).orElse(null));
        model.addAttribute("against", swap.open() ? swaps.against(swap) : Map.of());
        model.addAttribute("wents", wents());
        return "repair/swap";
    }

    private String checkForm(long id, Map<String, String> typed, Model model) {
        SwapView swap = swaps.get(id);
        TicketView ticket = told(swap.thread(), model);
        model.addAttribute("swap", swap);
        model.addAttribute("ticket", ticket);
        model.addAttribute("checks", Check.values());
        model.addAttribute("typed", typed);
        return "repair/swap-checks";
    }

    private TicketView told(SymptomRef ref, Model model) {
        TicketView ticket = tickets.get(ref.ticket());
        model.addAttribute("car", Car.of(ticket, ref.place()));
        return ticket;
    }

    /** Agreed parts of this thread that nobody has charged yet. */
    private Map<String, String> parts(SymptomRef ref) {
        var options = new LinkedHashMap<String, String>();
        charges.uncharged(ref.ticket()).stream()
                .filter(line -> line.line().kind() == LineKind.PART)
                .filter(line ->
                        line.line().place() == ref.place() || line.line().place() == 0)
                .forEach(line -> options.put(
                        "line-" + line.id(),
                        "as agreed: %s%s, %s"
                                .formatted(
                                        line.line().what(),
                                        line.line().partNumber() == null
                                                ? ""
                                                : " " + line.line().partNumber(),
                                        line.line().net().text())));
        swaps.chargedAlready(ref.ticket()).stream()
                .filter(charge ->
                        charge.line().place() == ref.place() || charge.line().place() == 0)
                .forEach(charge -> options.put(
                        "line-" + charge.estimateLineId(),
                        "charged already by %s: %s, %s"
                                .formatted(
                                        charge.who(),
                                        charge.line().what(),
                                        charge.line().net().text())));
        return options;
    }

    private @Nullable String whatOf(SymptomRef ref) {
        return charges.uncharged(ref.ticket()).stream()
                .filter(line -> line.line().kind() == LineKind.PART)
                .map(line -> line.line().what())
                .findFirst()
                .orElse(null);
    }

    private Pay pay(TicketNumber number, Typing typing, Form form, @Nullable BigDecimal cost) {
        String pay = text(form.pay());
        if (pay.matches("line-\\d{1,18}")) {
            return new Pay.ByEstimate(Long.parseLong(pay.substring(5)));
        }
        if (pay.equals("free")) {
            return new Pay.Free(typing.needed("free", form.free(), "Say why it is not charged: warranty, goodwill."));
        }
        if (!pay.equals("hand")) {
            typing.wrong("pay", "Choose how it is charged.");
        }
        BigDecimal price = typing.amount("price", form.price());
        if (pay.equals("hand") && price == null && cost == null) {
            typing.wrong("price", "Charged by hand: enter the price, or above what the shop paid.");
        }
        return new Pay.ByHand(
                price != null || cost == null
                        ? Money.rounded(price == null ? BigDecimal.ZERO : price, rates.currency())
                        : rates.sellingPrice(number, Money.rounded(cost, rates.currency())));
    }

    private static Went went(Typing typing, String field, @Nullable String typed) {
        for (Went each : Went.values()) {
            if (each.name().equals(typed)) {
                return each;
            }
        }
        typing.wrong(field, "Choose where the old part is.");
        return Went.KEPT;
    }

    private static Map<String, String> wents() {
        var options = new LinkedHashMap<String, String>();
        for (Went each : Went.values()) {
            options.put(each.name(), each.words());
        }
        return options;
    }

    private static String text(@Nullable String typed) {
        return typed == null ? "" : typed;
    }
}
