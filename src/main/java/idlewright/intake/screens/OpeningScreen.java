package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.Customers;
import idlewright.intake.StillPromised;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.VehicleView;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.SymptomKinds;
import idlewright.people.For;
import idlewright.people.Role;
import java.math.BigDecimal;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** Opens a visit with the customer's first words. */
@Controller
@For({Role.WRITER, Role.OWNER})
class OpeningScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String words,
            @Nullable String kind,
            @Nullable String distance,
            @Nullable String distanceRemark,
            @Nullable String keyTag,
            @Nullable String oldParts,
            @Nullable String roadTest) {}

    private final Tickets tickets;
    private final Vehicles vehicles;
    private final Customers customers;
    private final SymptomKinds kinds;
    private final List<StillPromised> promised;
    private final Problems problems;

    OpeningScreen(
            Tickets tickets,
            Vehicles vehicles,
            Customers customers,
            SymptomKinds kinds,
            List<StillPromised> promised,
            Problems problems) {
        this.promised = promised;
        this.tickets = tickets;
        this.vehicles = vehicles;
        this.customers = customers;
        this.kinds = kinds;
        this.problems = problems;
    }

    @GetMapping("/vehicles/{id:\\d+}/tickets/new")
    String blank(@PathVariable long id, Model model) {
        model.addAttribute("form", new Form(null, null, null, null, null, "SHOW", "YES"));
        return form(id, model);
    }

    @PostMapping("/vehicles/{id:\\d+}/tickets")
    String open(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            String words = SymptomScreen.words(typing, form.words());
            String kind = SymptomScreen.kind(typing, form.kind(), kinds);
            BigDecimal distance = typing.neededOdometer("distance", form.distance(), "Enter what the odometer shows.");
            typing.done();
            TicketNumber number = tickets.open(new Tickets.Opening(
                    id,
                    distance,
                    form.distanceRemark(),
                    form.keyTag(),
                    form.oldParts() == null ? "SHOW" : form.oldParts(),
                    form.roadTest() == null ? "YES" : form.roadTest()));
            return "redirect:" + tickets.hear(number, kind, words).url() + "/answers";
        } catch (Refused no) {
            form(id, model);
            return problems.show(model, no, "intake/opening");
        }
    }

    private String form(long id, Model model) {
        VehicleView vehicle = vehicles.get(id);
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("customer", customers.get(vehicle.customerId()));
        var last = vehicles.distances(id).stream().findFirst().orElse(null);
        model.addAttribute("last", last);
        model.addAttribute("kinds", kinds.names());
        model.addAttribute(
                "promised",
                promised.stream()
                        .flatMap(each -> each.of(vehicle, last).stream())
                        .toList());
        return "intake/opening";
    }
}
