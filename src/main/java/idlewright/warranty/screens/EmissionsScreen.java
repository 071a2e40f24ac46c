package idlewright.warranty.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Typing;
import idlewright.intake.VehicleView;
import idlewright.intake.Vehicles;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.warranty.EmissionTerms;
import java.math.BigDecimal;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** What the maker owes by emissions law: first two questions, then the terms. */
@Controller
@For({Role.WRITER, Role.OWNER})
class EmissionsScreen {

    /** What was typed; the day as 2019-04-30. */
    record Form(
            @Nullable String began,
            @Nullable String distance,
            @Nullable String source) {}

    private final EmissionTerms emissions;
    private final Vehicles vehicles;
    private final Problems problems;
    private final Times times;

    EmissionsScreen(EmissionTerms emissions, Vehicles vehicles, Problems problems, Times times) {
        this.emissions = emissions;
        this.vehicles = vehicles;
        this.problems = problems;
        this.times = times;
    }

    @GetMapping("/vehicles/{id:\\d+}/emissions")
    String emissions(@PathVariable long id, Model model) {
        VehicleView vehicle = vehicles.get(id);
        model.addAttribute(
                "form",
                emissions
                        .began(id)
                        .map(began -> new Form(began.began().toString(), null, began.source()))
                        .orElse(new Form(null, null, null)));
        return show(vehicle, model);
    }

    @PostMapping("/vehicles/{id:\\d+}/emissions")
    String ask(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            LocalDate began = LocalDate.EPOCH;
            try {
                began = LocalDate.parse(form.began() == null ? "" : form.began());
            } catch (DateTimeException e) {
                typing.wrong("began", "Enter the day the vehicle first went into use, like 2019-04-30.");
            }
            BigDecimal distance =
                    typing.neededOdometer("distance", form.distance(), "Enter what the odometer shows now.");
            String source = typing.needed("source", form.source(), "Say how that day is known.");
            typing.done();
            emissions.keep(id, began, distance, source);
            return "redirect:/vehicles/" + id + "/emissions";
        } catch (Refused no) {
            return problems.show(model, no, show(vehicles.get(id), model));
        }
    }

    private String show(VehicleView vehicle, Model model) {
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("began", emissions.began(vehicle.id()).orElse(null));
        model.addAttribute("quoted", emissions.quoted(vehicle, times.today(), Optional.empty()));
        model.addAttribute(
                "last", vehicles.distances(vehicle.id()).stream().findFirst().orElse(null));
        return "warranty/emissions";
    }
}
