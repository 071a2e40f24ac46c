package idlewright.proof.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.frame.rules.Qr;
import idlewright.intake.Letters;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.proof.AnswerLinks;
import idlewright.proof.FollowUps;
import idlewright.proof.FollowUps.Due;
import idlewright.proof.FollowUps.Said;
import idlewright.proof.rules.Outcome;
import idlewright.proof.rules.Turn;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/** Who is to be asked whether it stayed away; what they said; and the visit that follows when it came back. */
@Controller
@For({Role.WRITER, Role.OWNER})
class FollowUpScreen {

    /** A symptom that came back, what the customer said then (or was typed now), and the visit that is open for it. */
    record Back(
            SymptomView symptom,
            @Nullable String words,
            @Nullable String distance,
            @Nullable String distanceRemark,
            @Nullable TicketNumber comeback) {}

    /** What was typed to open a comeback. */
    record Comeback(
            int place,
            @Nullable String words,
            @Nullable String distance,
            @Nullable String distanceRemark) {

        static final Comeback NONE = new Comeback(0, null, null, null);
    }

    private final FollowUps followUps;
    private final AnswerLinks links;
    private final Tickets tickets;
    private final Letters letters;
    private final Problems problems;

    FollowUpScreen(FollowUps followUps, AnswerLinks links, Tickets tickets, Letters letters, Problems problems) {
        this.followUps = followUps;
        this.links = links;
        this.tickets = tickets;
        this.letters = letters;
        this.problems = problems;
    }

    @GetMapping("/follow-ups")
    String list(Model model) {
        var turns = new EnumMap<Turn, List<Due>>(Turn.class);
        followUps
                .due()
                .forEach(due -> turns.computeIfAbsent(due.turn(), t -> new ArrayList<>())
                        .add(due));
        model.addAttribute("turns", turns);
        return "proof/follow-up-list";
    }

    @GetMapping("/follow-ups/{number:\\d+}")
    String followUp(@PathVariable int number, Model model) {
        var typed = new LinkedHashMap<String, String>();
        typed.put("again", "3");
        links.pending(new TicketNumber(number)).forEach(answer -> {
            typed.put("outcome-" + answer.place(), answer.outcome().name());
            if (answer.words() != null) {
                typed.put("note", answer.words());
            }
        });
        return page(number, typed, model);
    }

    @PostMapping("/follow-ups/{number:\\d+}")
    String keep(
            @PathVariable int number, @RequestParam Map<String, String> typed, Model model, RedirectAttributes after) {
        try {
            var typing = new Typing();
            var outcomes = new LinkedHashMap<Integer, Outcome>();
            followUps.asked(new TicketNumber(number)).forEach(symptom -> {
                String said = typed.get("outcome-" + symptom.place());
                for (Outcome outcome : Outcome.values()) {
                    if (outcome.name().equals(said)) {
                        outcomes.put(symptom.place(), outcome);
                    }
                }
            });
            Integer again =
                    outcomes.containsValue(Outcome.NOT_REACHED) ? typing.whole("again", typed.get("again")) : null;
            typing.done();
            followUps.record(
                    new TicketNumber(number),
                    outcomes,
                    typed.getOrDefault("note", ""),
                    "true".equals(typed.get("byLink")),
                    again);
            if (outcomes.containsValue(Outcome.RETURNED)) {
                return "redirect:/follow-ups/" + number;
            }
            after.addFlashAttribute("notice", "Kept what the customer of ticket %d said.".formatted(number));
            return "redirect:/follow-ups";
        } catch (Refused no) {
            return problems.show(model, no, page(number, typed, model));
        }
    }

    @PostMapping("/follow-ups/{number:\\d+}/link")
    String makeLink(@PathVariable int number, Model model, RedirectAttributes after) {
        try {
            var ticket = new TicketNumber(number);
            String url = url(links.make(ticket));
            String whyNot = letters.whyNot(tickets.get(ticket).customer());
            if (whyNot == null) {
                links.mail(ticket, url);
            }
            after.addFlashAttribute(
                    "notice",
                    whyNot == null
                            ? "A letter with the link is on its way."
                            : "The link is made. Show it or send it yourself. " + whyNot);
            return "redirect:/follow-ups/" + number;
        } catch (Refused no) {
            return problems.show(model, no, page(number, Map.of(), model));
        }
    }

    private static String url(AnswerLinks.Link link) {
        return ServletUriComponentsBuilder.fromCurrentContextPath()
                .path(link.path())
                .toUriString();
    }

    @PostMapping("/follow-ups/{number:\\d+}/symptoms/{place:\\d+}/comeback")
    @For(Role.WRITER)
    String openComeback(
            @PathVariable int number,
            @PathVariable int place,
            @RequestParam(required = false) @Nullable String words,
            @RequestParam(required = false) @Nullable String distance,
            @RequestParam(required = false) @Nullable String distanceRemark,
            Model model) {
        try {
            var typing = new Typing();
            String said = typing.needed("words", words, "Write down what the customer says now.");
            BigDecimal now = typing.neededOdometer("distance", distance, "Enter what the odometer shows.");
            typing.done();
            return "redirect:"
                    + followUps
                            .openComeback(SymptomRef.of(number, place), said, now, distanceRemark)
                            .url();
        } catch (Refused no) {
            var form = new Comeback(place, words, distance, distanceRemark);
            return problems.show(model, no, page(number, Map.of(), form, model));
        }
    }

    private String page(int number, Map<String, String> typed, Model model) {
        return page(number, typed, Comeback.NONE, model);
    }

    private String page(int number, Map<String, String> typed, Comeback form, Model model) {
        var ticketNumber = new TicketNumber(number);
        TicketView ticket = tickets.get(ticketNumber);
        List<Said> said = followUps.said(ticketNumber);
        model.addAttribute("asked", followUps.asked(ticketNumber));
        model.addAttribute("waits", followUps.waits(ticket));
        model.addAttribute("ticket", ticket);
        model.addAttribute("said", said);
        model.addAttribute("typed", typed);
        model.addAttribute(
                "pending",
                links.pending(ticketNumber).stream()
                        .filter(answer -> {
                            var symptom = ticket.symptom(answer.place());
                            return !symptom.has(ThreadStamp.RETURNED) && !symptom.has(ThreadStamp.WATCHED);
                        })
                        .toList());
        model.addAttribute("outcomes", outcomes(Outcome.values()));
        model.addAttribute("later", outcomes(Outcome.RETURNED));
        model.addAttribute("back", back(ticket, said, form));
        links.of(ticketNumber).ifPresent(link -> {
            String url = url(link);
            model.addAttribute("link", link);
            model.addAttribute("url", url);
            model.addAttribute("qr", Qr.of(url));
        });
        return "proof/follow-up";
    }

    private List<Back> back(TicketView ticket, List<Said> said, Comeback form) {
        var comebacks = followUps.comebacks(ticket.number());
        return ticket.symptoms().stream()
                .filter(symptom -> symptom.has(ThreadStamp.RETURNED))
                .map(symptom -> {
                    boolean typed = symptom.place() == form.place();
                    return new Back(
                            symptom,
                            typed ? form.words() : lastWords(said, symptom.place()),
                            typed ? form.distance() : null,
                            typed ? form.distanceRemark() : null,
                            comebacks.stream()
                                    .filter(comeback -> comeback.place() == symptom.place())
                                    .map(FollowUps.Comeback::ticket)
                                    .findFirst()
                                    .orElse(null));
                })
                .toList();
    }

    private static @Nullable String lastWords(List<Said> said, int place) {
        return said.stream()
                .filter(each -> each.place() == place && each.outcome() == Outcome.RETURNED && each.note() != null)
                .map(Said::note)
                .reduce((first, second) -> second)
                .orElse(null);
    }

    private static Map<String, String> outcomes(Outcome... all) {
        var options = new LinkedHashMap<String, String>();
        for (Outcome each : all) {
            options.put(each.name(), each.words());
        }
        return options;
    }
}
