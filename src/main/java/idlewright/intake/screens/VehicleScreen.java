package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.Customers;
import idlewright.intake.StillPromised;
import idlewright.intake.Tickets;
import idlewright.intake.VehicleView;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.EngineFamilies;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.vin.Vin;
import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A car with its visits; adding and amending one; what its VIN tells. */
@Controller
@For({Role.WRITER, Role.OWNER})
class VehicleScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String vin,
            @Nullable String plate,
            @Nullable String make,
            @Nullable String model,
            @Nullable String modelYear,
            @Nullable String engineFamily,
            @Nullable String displacementL,
            @Nullable String cylinders,
            @Nullable String fuel,
            @Nullable String aspiration,
            @Nullable String metering,
            @Nullable String gearbox,
            @Nullable String distanceUnit,
            @Nullable String anotherFamily) {

        static Form blank() {
            return new Form(
                    null, null, null, null, null, null, null, null, "PETROL", "NATURAL", "UNKNOWN", "UNKNOWN", "km",
                    null);
        }

        static Form from(VehicleView v) {
            return new Form(
                    v.vin(),
                    v.plate(),
                    v.make(),
                    v.model(),
                    text(v.modelYear()),
                    v.engineFamily(),
                    v.displacementL() == null
                            ? null
                            : v.displacementL().stripTrailingZeros().toPlainString(),
                    text(v.cylinders()),
                    v.fuel(),
                    v.aspiration(),
                    v.metering(),
                    v.gearbox(),
                    v.distanceUnit(),
                    null);
        }

        Vehicles.Telling telling() {
            var typing = new Typing();
            BigDecimal litres = typing.number("displacementL", displacementL);
            Integer year = typing.whole("modelYear", modelYear);
            Integer count = typing.whole("cylinders", cylinders);
            typing.done();
            return new Vehicles.Telling(
                    vin,
                    plate,
                    make,
                    model,
                    year,
                    engineFamily,
                    litres,
                    count,
                    fuel,
                    aspiration,
                    metering,
                    gearbox,
                    distanceUnit);
        }

        private static @Nullable String text(@Nullable Object value) {
            return value == null ? null : value.toString();
        }
    }

    private final Vehicles vehicles;
    private final Customers customers;
    private final Tickets tickets;
    private final List<StillPromised> promised;
    private final Problems problems;

    VehicleScreen(
            Vehicles vehicles, Customers customers, Tickets tickets, List<StillPromised> promised, Problems problems) {
        this.promised = promised;
        this.vehicles = vehicles;
        this.customers = customers;
        this.tickets = tickets;
        this.problems = problems;
    }

    @GetMapping("/vehicles/{id:\\d+}")
    @For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
    String vehicle(@PathVariable long id, Model model) {
        VehicleView vehicle = vehicles.get(id);
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("customer", customers.get(vehicle.customerId()));
        model.addAttribute("visits", tickets.visits(id));
        var distances = vehicles.distances(id);
        var last = distances.isEmpty() ? null : distances.get(0);
        model.addAttribute("distances", distances);
        model.addAttribute(
                "promised",
                promised.stream()
                        .flatMap(each -> each.of(vehicle, last).stream())
                        .toList());
        model.addAttribute("vin", vehicle.vin() == null ? null : Vin.check(vehicle.vin()));
        return "intake/vehicle";
    }

    @GetMapping("/vehicles/vin-check")
    String vinCheck(@RequestParam(required = false) @Nullable String vin, Model model) {
        model.addAttribute("vin", vin == null ? null : Vin.check(vin));
        model.addAttribute("same", vin == null ? java.util.List.of() : vehicles.withVin(vin.replaceAll("\\s", "")));
        return "intake/vehicle-form :: vin-check";
    }

    @GetMapping("/customers/{customer:\\d+}/vehicles/new")
    String blank(@PathVariable("customer") long customerId, Model model) {
        model.addAttribute("customer", customers.get(customerId));
        model.addAttribute("families", vehicles.families().keySet());
        model.addAttribute("form", Form.blank());
        return "intake/vehicle-form";
    }

    @PostMapping("/customers/{customer:\\d+}/vehicles")
    String add(
            @PathVariable("customer") long customerId,
            @ModelAttribute("form") Form form,
            Model model,
            RedirectAttributes after) {
        try {
            customers.get(customerId);
            var telling = form.telling();
            oneNameAFamily(form, model);
            VehicleView added = vehicles.add(customerId, telling);
            doubt(added, after);
            return "redirect:/vehicles/" + added.id() + "/tickets/new";
        } catch (Refused no) {
            model.addAttribute("customer", customers.get(customerId));
            model.addAttribute("families", vehicles.families().keySet());
            return problems.show(model, no, "intake/vehicle-form");
        }
    }

    @GetMapping("/vehicles/{id:\\d+}/amending")
    @For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
    String amending(@PathVariable long id, Model model) {
        VehicleView vehicle = vehicles.get(id);
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("form", Form.from(vehicle));
        model.addAttribute("version", vehicle.version());
        model.addAttribute("families", vehicles.families().keySet());
        return "intake/vehicle-form";
    }

    @PostMapping("/vehicles/{id:\\d+}/amending")
    @For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
    String amend(
            @PathVariable long id,
            @RequestParam int version,
            @ModelAttribute("form") Form form,
            Model model,
            RedirectAttributes after) {
        try {
            var telling = form.telling();
            oneNameAFamily(form, model);
            vehicles.amend(id, version, telling);
            doubt(vehicles.get(id), after);
            return "redirect:/vehicles/" + id;
        } catch (Refused no) {
            model.addAttribute("vehicle", vehicles.get(id));
            model.addAttribute("version", version);
            model.addAttribute("families", vehicles.families().keySet());
            return problems.show(model, no, "intake/vehicle-form");
        }
    }

    /** One family written two ways would be two half libraries: asked about once. */
    private void oneNameAFamily(Form form, Model model) {
        if (form.engineFamily() == null || "true".equals(form.anotherFamily())) {
            return;
        }
        Map<String, Integer> known = vehicles.families();
        EngineFamilies.nearly(form.engineFamily(), known.keySet()).ifPresent(family -> {
            int cars = known.getOrDefault(family, 0);
            model.addAttribute("nearly", family);
            throw Refused.at(
                    "engineFamily",
                    "The shop writes it %s, on %d %s. Write it so, or say below that it is another family."
                            .formatted(family, cars, cars == 1 ? "car" : "cars"));
        });
    }

    /** A VIN is checked, never forced; what is wrong with it is said while the car still stands there. */
    private static void doubt(VehicleView vehicle, RedirectAttributes after) {
        var problems = vehicle.vin() == null
                ? List.<String>of()
                : Vin.check(vehicle.vin()).problems();
        if (!problems.isEmpty()) {
            after.addFlashAttribute(
                    "notice",
                    "The car is kept. Its VIN is %s. %s".formatted(vehicle.vin(), String.join(" ", problems)));
            after.addFlashAttribute("noticeUrl", "/vehicles/" + vehicle.id() + "/amending");
            after.addFlashAttribute("noticeLink", "Amend the VIN");
        }
    }
}
