package idlewright.bench.screens;

import idlewright.bench.Bench;
import idlewright.bench.MeasurementView;
import idlewright.bench.ReadingView;
import idlewright.bench.rules.Point;
import idlewright.frame.NotFound;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Putting a reading right: the old one stays in sight, struck. */
@Controller
@For(Role.TECHNICIAN)
class CorrectionScreen {

    /** What the technician typed. */
    record Form(
            @Nullable String typed,
            @Nullable String unit,
            @Nullable String confirmed,
            @Nullable String reason,
            @Nullable String none) {}

    private final Tickets tickets;
    private final Bench bench;
    private final Problems problems;

    CorrectionScreen(Tickets tickets, Bench bench, Problems problems) {
        this.tickets = tickets;
        this.bench = bench;
        this.problems = problems;
    }

    @GetMapping("/readings/{id:\\d+}/correction")
    String blank(@PathVariable long id, Model model) {
        model.addAttribute("form", new Form(null, null, null, null, null));
        return form(id, model);
    }

    @PostMapping("/readings/{id:\\d+}/correction")
    String correct(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        try {
            long now = bench.correct(
                    id,
                    form.none() != null ? "none" : form.typed(),
                    form.unit(),
                    "true".equals(form.confirmed()),
                    form.reason());
            return "redirect:/measurements/" + bench.around(now).id() + "?read=" + now;
        } catch (Refused no) {
            form(id, model);
            model.addAttribute("question", no.problems().get("confirmed"));
            return problems.show(model, no, "bench/correction");
        }
    }

    private String form(long id, Model model) {
        MeasurementView view = bench.around(id);
        ReadingView old = Stream.concat(view.readings().stream(), view.struck().stream())
                .filter(reading -> reading.id() == id)
                .findFirst()
                .orElseThrow(() -> NotFound.of("reading " + id));
        Point point = bench.procedure(view).point(old.point()).orElseThrow(() -> NotFound.of("reading " + id));
        var ticket = tickets.get(view.ticket());
        model.addAttribute("ticket", ticket);
        model.addAttribute("car", Car.of(ticket));
        model.addAttribute("test", view);
        model.addAttribute("old", old);
        model.addAttribute("point", point);
        return "bench/correction";
    }
}
