package idlewright.bench.screens;

import idlewright.bench.Bench;
import idlewright.bench.MeasurementView;
import idlewright.bench.ReadingView;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.bench.rules.UnitShown;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.VehicleView;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.units.Unit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Taking readings, one point at a time; each is answered at once. */
@Controller
@For({Role.TECHNICIAN, Role.OWNER})
class MeasurementScreen {

    /** What the technician typed. */
    record Form(
            @Nullable String point,
            @Nullable Integer spot,
            @Nullable String typed,
            @Nullable String unit,
            @Nullable String confirmed,
            @Nullable String note,
            @Nullable String none) {}

    /** One place that is read, and what was read there. */
    record Slot(Point point, int spot, @Nullable ReadingView reading) {
        public String label() {
            return point.labelAt(spot);
        }

        public String key() {
            return point.key() + "." + spot;
        }

        public boolean open() {
            return reading == null;
        }
    }

    private final Tickets tickets;
    private final Bench bench;
    private final Problems problems;

    MeasurementScreen(Tickets tickets, Bench bench, Problems problems) {
        this.tickets = tickets;
        this.bench = bench;
        this.problems = problems;
    }

    /**
     * @param read id of the reading that was just kept
     * @param skip key of the slot that was passed over
     * @param at key of the slot to read now
     */
    @GetMapping("/measurements/{id:\\d+}")
    String measurement(
            @PathVariable long id,
            @RequestParam(required = false) @Nullable Long read,
            @RequestParam(required = false) @Nullable String skip,
            @RequestParam(required = false) @Nullable String at,
            Model model) {
        MeasurementView view = bench.get(id);
        ReadingView kept = read == null
                ? null
                : view.readings().stream()
                        .filter(reading -> reading.id() == read)
                        .findFirst()
                        .orElse(null);
        String after = kept != null ? kept.point() + "." + kept.spot() : skip;
        page(view, model, at, after);
        if (kept != null) {
            model.addAttribute("kept", kept);
            model.addAttribute("follows", follows(bench.procedure(view), view, kept));
        }
        return "bench/measurement";
    }

    @PostMapping("/measurements/{id:\\d+}/readings")
    @For(Role.TECHNICIAN)
    String keep(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        try {
            long kept = bench.keep(
                    id,
                    new Bench.Read(
                            String.valueOf(form.point()),
                            form.spot() == null ? 0 : form.spot(),
                            form.none() != null ? "none" : form.typed(),
                            form.unit(),
                            "true".equals(form.confirmed()),
                            form.note()));
            return "redirect:/measurements/" + id + "?read=" + kept;
        } catch (Refused no) {
            page(bench.get(id), model, form.point() + "." + (form.spot() == null ? 0 : form.spot()), null);
            model.addAttribute("question", no.problems().get("confirmed"));
            return problems.show(model, no, "bench/measurement");
        }
    }

    @PostMapping("/measurements/{id:\\d+}/finish")
    @For(Role.TECHNICIAN)
    String finish(@PathVariable long id, Model model, RedirectAttributes flash) {
        try {
            bench.finish(id);
            MeasurementView view = bench.get(id);
            flash.addFlashAttribute("notice", view.procedureName() + " is finished.");
            return "redirect:/bay/" + view.ticket();
        } catch (Refused no) {
            page(bench.get(id), model, null, null);
            return problems.show(model, no, "bench/measurement");
        }
    }

    private void page(MeasurementView view, Model model, @Nullable String at, @Nullable String after) {
        TicketView ticket = tickets.get(view.ticket());
        Procedure procedure = bench.procedure(view);
        List<Slot> slots = slots(procedure, view, ticket.vehicle());
        Slot now = view.finished() ? null : now(slots, at, after);
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new Form(null, null, null, null, null, null, null));
        }
        model.addAttribute("ticket", ticket);
        model.addAttribute("car", Car.of(ticket));
        model.addAttribute("test", view);
        model.addAttribute("procedure", procedure);
        model.addAttribute("slots", slots);
        model.addAttribute("now", now);
        model.addAttribute("number", now == null ? 0 : slots.indexOf(now) + 1);
        var units = new HashMap<String, String>();
        slots.stream()
                .filter(slot -> !slot.point().units().isEmpty())
                .forEach(slot -> units.put(slot.key(), unit(slot.point(), view).symbol()));
        model.addAttribute("units", units);
        model.addAttribute("unit", now == null ? null : units.get(now.key()));
        model.addAttribute("typed", ((Form) Objects.requireNonNull(model.getAttribute("form"))).typed());
    }

    private static List<Slot> slots(Procedure procedure, MeasurementView view, VehicleView vehicle) {
        var slots = new ArrayList<Slot>();
        for (Point point : procedure.toRead()) {
            int last = switch (point.per()) {
                case ONCE -> 0;
                case BANK -> vehicle.cylinders() != null && vehicle.cylinders() <= 5 ? 1 : 2;
                case CYLINDER -> vehicle.cylinders() == null ? 4 : vehicle.cylinders();
            };
            int more = view.readings().stream()
                    .filter(reading -> reading.point().equals(point.key()))
                    .mapToInt(ReadingView::spot)
                    .max()
                    .orElse(0);
            for (int spot = last == 0 ? 0 : 1; spot <= Math.max(last, more); spot++) {
                slots.add(new Slot(point, spot, view.reading(point.key(), spot).orElse(null)));
            }
        }
        return slots;
    }

    private static @Nullable Slot now(List<Slot> slots, @Nullable String at, @Nullable String after) {
        Optional<Slot> asked = slots.stream()
                .filter(slot -> slot.key().equals(at))
                .filter(Slot::open)
                .findFirst();
        if (asked.isPresent()) {
            return asked.get();
        }
        int from = 0;
        for (int i = 0; i < slots.size(); i++) if (slots.get(i).key().equals(after)) from = i + 1;
        return slots.stream()
                .skip(from)
                .filter(Slot::open)
                .findFirst()
                .or(() -> slots.stream()
                        .filter(slot -> slot.open()
                                && !slot.point().optional()
                                && !slot.key().equals(after))
                        .findFirst())
                .orElse(null);
    }

    /** The unit in which a bare number is taken now. */
    private static Unit unit(Point point, MeasurementView view) {
        return UnitShown.at(
                point,
                view.readings().stream()
                        .filter(reading -> reading.id() != 0 && reading.unit() != null)
                        .sorted(Comparator.comparingLong(ReadingView::id))
                        .map(reading -> new UnitShown.Taken(
                                reading.point(), Objects.requireNonNull(reading.unit()), reading.unitWritten()))
                        .toList());
    }

    /** What the reading just kept makes calculable. */
    private static List<ReadingView> follows(Procedure procedure, MeasurementView view, ReadingView kept) {
        List<String> from = procedure.points().stream()
                .filter(point ->
                        point.derivation() != null && point.derivation().of().contains(kept.point()))
                .map(Point::key)
                .toList();
        return view.readings().stream()
                .filter(reading -> reading.derived()
                        && from.contains(reading.point())
                        && (reading.spot() == kept.spot() || reading.spot() == 0))
                .toList();
    }
}
