package idlewright.repair.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Typing;
import idlewright.intake.SymptomRef;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.repair.Clocks;
import idlewright.repair.Clocks.Span;
import idlewright.repair.rules.Clocking;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
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
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Starting and stopping the clock at the bay, what was clocked lately, and putting a wrong time right. */
@Controller
@For({Role.TECHNICIAN, Role.OWNER})
class ClockScreen {

    /** What was typed of the right time; days as 2026-11-09, hours as 8:12. */
    record Form(
            @Nullable String fromDay,
            @Nullable String from,
            @Nullable String toDay,
            @Nullable String to,
            @Nullable String reason) {}

    private static final DateTimeFormatter HOUR = DateTimeFormatter.ofPattern("H:mm", Locale.ENGLISH);
    private static final int DAYS = 14;

    private final Clocks clocks;
    private final Problems problems;
    private final Times times;

    ClockScreen(Clocks clocks, Problems problems, Times times) {
        this.clocks = clocks;
        this.problems = problems;
        this.times = times;
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/clock")
    @For(Role.TECHNICIAN)
    String start(
            @PathVariable int number,
            @PathVariable int place,
            @RequestParam(required = false) @Nullable String kind,
            RedirectAttributes after) {
        clocks.start(SymptomRef.of(number, place), kind == null ? "" : kind);
        after.addFlashAttribute("notice", "Your clock runs.");
        return "redirect:/bay/" + number;
    }

    @PostMapping("/clocks/stop")
    @For(Role.TECHNICIAN)
    String stop(RedirectAttributes after) {
        var stopped = clocks.stop();
        if (stopped.isPresent() && stopped.get().pastMidnight()) {
            after.addFlashAttribute("notice", "Stopped, but it ran over the day’s end. Say which time is right.");
            return "redirect:/clocks/" + stopped.get().id() + "/correction";
        }
        after.addFlashAttribute(
                "notice",
                stopped.isEmpty()
                        ? "Your clock was stopped already."
                        : "Stopped after %s.".formatted(stopped.get().words()));
        return stopped.isEmpty()
                ? "redirect:/bay"
                : "redirect:/bay/" + stopped.get().thread().ticket();
    }

    @GetMapping("/clocks")
    String latest(Model model) {
        List<Span> spans = clocks.latest(DAYS);
        Map<String, List<Span>> days = spans.stream()
                .filter(span -> !span.running())
                .collect(Collectors.groupingBy(
                        span -> times.day(span.startedAt()), LinkedHashMap::new, Collectors.toList()));
        var sums = new LinkedHashMap<String, Map<String, String>>();
        days.forEach((day, its) -> sums.put(
                day,
                its.stream()
                        .collect(Collectors.groupingBy(
                                Span::technician, java.util.TreeMap::new, Collectors.summingLong(Span::seconds)))
                        .entrySet()
                        .stream()
                        .collect(Collectors.toMap(
                                Map.Entry::getKey,
                                sum -> Clocking.words(sum.getValue()),
                                (a, b) -> a,
                                LinkedHashMap::new))));
        model.addAttribute("running", spans.stream().filter(Span::running).toList());
        model.addAttribute("days", days);
        model.addAttribute("sums", sums);
        return "repair/clock";
    }

    @GetMapping("/clocks/{id:\\d+}/correction")
    String wrong(@PathVariable long id, Model model) {
        Span span = clocks.get(id);
        Instant to = span.stoppedAt();
        model.addAttribute(
                "form",
                new Form(
                        day(span.startedAt()).toString(),
                        hour(span.startedAt()),
                        day(span.startedAt()).toString(),
                        to == null || span.pastMidnight() ? null : hour(to),
                        null));
        return form(span, model);
    }

    @PostMapping("/clocks/{id:\\d+}/correction")
    String correct(@PathVariable long id, @ModelAttribute("form") Form form, Model model, RedirectAttributes after) {
        try {
            var typing = new Typing();
            Instant from = moment(typing, "fromDay", form.fromDay(), "from", form.from());
            Instant to = moment(typing, "toDay", form.toDay(), "to", form.to());
            String reason = typing.needed("reason", form.reason(), "Say why it is corrected: forgot to stop it.");
            typing.done();
            clocks.correct(id, from, to, reason);
            after.addFlashAttribute("notice", "The right time is kept; the wrong one stays readable in the journal.");
            return "redirect:/clocks";
        } catch (Refused no) {
            return problems.show(model, no, form(clocks.get(id), model));
        }
    }

    private static String form(Span span, Model model) {
        model.addAttribute("span", span);
        return "repair/clock-correction";
    }

    private Instant moment(
            Typing typing, String dayField, @Nullable String day, String hourField, @Nullable String hour) {
        LocalDate date = times.today();
        try {
            date = LocalDate.parse(day == null ? "" : day);
        } catch (DateTimeException e) {
            typing.wrong(dayField, "Enter the day, like 2026-11-09.");
        }
        try {
            return date.atTime(LocalTime.parse(hour == null ? "" : hour.strip(), HOUR))
                    .atZone(times.zone())
                    .toInstant();
        } catch (DateTimeException e) {
            typing.wrong(hourField, "Enter the hour, like 8:12.");
            return Instant.EPOCH;
        }
    }

    private LocalDate day(Instant moment) {
        return LocalDate.ofInstant(moment, times.zone());
    }

    private String hour(Instant moment) {
        return HOUR.format(moment.atZone(times.zone()));
    }
}
