package idlewright.bench.screens;

import idlewright.bench.Procedures;
import idlewright.bench.VehicleLimits;
import idlewright.bench.rules.Entry;
import idlewright.bench.rules.Limit;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.frame.NotFound;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import idlewright.reference.units.Quantity;
import idlewright.reference.units.Typed;
import idlewright.reference.units.Unit;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Limits from documents, for an engine family or one vehicle; they stand before every other ground. */
@Controller
@For(Role.OWNER)
@RequestMapping("/set-up/limits")
class LimitsScreen {

    /** What the owner typed; {@code reading} is "procedure.point". */
    record Form(
            @Nullable String scope,
            @Nullable String engineFamily,
            @Nullable String ticket,
            @Nullable String reading,
            @Nullable String low,
            @Nullable String high,
            @Nullable String citation) {}

    /** A limit with its words. */
    record Line(
            long id,
            String whose,
            String procedure,
            String reading,
            String limit,
            String citation,
            String who,
            Instant at,
            @Nullable String struckBecause) {}

    /** A procedure, a point of it, and the limit's ends in one unit. */
    private record Read(
            Procedure procedure,
            Point point,
            Unit unit,
            @Nullable Double low,
            @Nullable Double high) {}

    private final VehicleLimits limits;
    private final Procedures procedures;
    private final Tickets tickets;
    private final Vehicles vehicles;
    private final Problems problems;

    LimitsScreen(VehicleLimits limits, Procedures procedures, Tickets tickets, Vehicles vehicles, Problems problems) {
        this.limits = limits;
        this.procedures = procedures;
        this.tickets = tickets;
        this.vehicles = vehicles;
        this.problems = problems;
    }

    @GetMapping
    String list(Model model) {
        List<Line> lines = lines();
        model.addAttribute(
                "lines",
                lines.stream().filter(line -> line.struckBecause() == null).toList());
        model.addAttribute(
                "struck",
                lines.stream().filter(line -> line.struckBecause() != null).toList());
        return "bench/limits";
    }

    @GetMapping("/new")
    String fresh(Model model) {
        model.addAttribute("form", new Form("family", null, null, null, null, null, null));
        return page(model);
    }

    @PostMapping
    String enter(@ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            boolean family = !"vehicle".equals(form.scope());
            Long vehicle = family ? null : vehicle(form, typing);
            if (family) {
                typing.needed(
                        "engineFamily", form.engineFamily(), "Enter the engine family as it stands on the vehicles.");
            }
            Read read = read(form, typing);
            typing.done();
            limits.enter(
                    vehicle,
                    family ? form.engineFamily() : null,
                    read.procedure().key(),
                    read.point().key(),
                    read.low(),
                    read.high(),
                    read.unit().symbol(),
                    form.citation());
            return "redirect:/set-up/limits";
        } catch (Refused no) {
            return problems.show(model, no, page(model));
        }
    }

    @GetMapping("/{id:\\d+}/strike")
    String askWhyStruck(@PathVariable long id, Model model) {
        return strikePage(id, null, model);
    }

    @PostMapping("/{id:\\d+}/strike")
    String strike(@PathVariable long id, @RequestParam @Nullable String reason, Model model) {
        try {
            limits.strike(id, reason);
            return "redirect:/set-up/limits";
        } catch (Refused no) {
            return problems.show(model, no, strikePage(id, reason, model));
        }
    }

    private String strikePage(long id, @Nullable String reason, Model model) {
        model.addAttribute(
                "line",
                lines().stream()
                        .filter(line -> line.id() == id)
                        .findFirst()
                        .orElseThrow(() -> NotFound.of("limit " + id)));
        model.addAttribute("reason", reason);
        return "bench/limits-strike";
    }

    private @Nullable Long vehicle(Form form, Typing typing) {
        Integer number = typing.whole("ticket", form.ticket());
        if (form.ticket() == null) {
            typing.wrong("ticket", "Enter the number of a ticket this vehicle was here with.");
        }
        if (number == null) {
            return null;
        }
        try {
            return tickets.vehicle(new TicketNumber(number)).id();
        } catch (NotFound | IllegalArgumentException e) {
            typing.wrong("ticket", "There is no ticket " + number + ".");
            return null;
        }
    }

    private Read read(Form form, Typing typing) {
        Optional<Procedure> procedure =
                Optional.ofNullable(form.reading()).flatMap(key -> procedures.find(key.replaceFirst("\\..*", "")));
        Optional<Point> point = procedure.flatMap(
                each -> each.point(form.reading() == null ? "" : form.reading().replaceFirst("^[^.]*\\.", "")));
        if (procedure.isEmpty() || point.isEmpty() || point.get().kind() != Point.Kind.NUMBER) {
            typing.wrong("reading", "Choose the reading this limit is for.");
            typing.done();
            throw new IllegalStateException();
        }
        Quantity low = quantity("low", form.low(), point.get(), typing);
        Quantity high = quantity("high", form.high(), point.get(), typing);
        Unit unit = low != null
                ? low.unit()
                : high != null ? high.unit() : point.get().unit();
        return new Read(procedure.get(), point.get(), unit, value(low, unit), value(high, unit));
    }

    private static @Nullable Quantity quantity(String field, @Nullable String typed, Point point, Typing typing) {
        try {
            if (typed == null) {
                return null;
            }
            List<Quantity> meanings = Typed.meanings(typed, point.unit());
            Optional<Quantity> meant = Entry.meant(point, meanings);
            if (meant.isEmpty()) {
                typing.wrong(field, Entry.eitherWay(typed, meanings));
            }
            return meant.orElse(null);
        } catch (Typed.NotUnderstood e) {
            typing.wrong(field, e.getMessage() + (String.valueOf(e.getMessage()).endsWith(".") ? "" : "."));
            return null;
        }
    }

    private static @Nullable Double value(@Nullable Quantity quantity, Unit unit) {
        return quantity == null
                ? null
                : quantity.unit() == unit
                        ? (Double) quantity.value().doubleValue()
                        : (Double) unit.fromSi(
                                quantity.unit().toSi(quantity.value().doubleValue()));
    }

    private List<Line> lines() {
        return limits.all().stream()
                .map(each -> {
                    Optional<Procedure> procedure = procedures.find(each.procedure());
                    Limit limit = each.limit();
                    return new Line(
                            each.id(),
                            each.engineFamily() != null ? "engine family " + each.engineFamily() : "one vehicle",
                            procedure.map(Procedure::name).orElse(each.procedure()),
                            label(procedure, each.point()),
                            limit.words(),
                            limit.citation(),
                            each.who(),
                            each.at(),
                            each.struckBecause());
                })
                .toList();
    }

    private static String label(Optional<Procedure> procedure, String point) {
        return procedure.flatMap(each -> each.point(point)).map(Point::label).orElse(point);
    }

    private String page(Model model) {
        var readings = new LinkedHashMap<String, String>();
        for (Procedure procedure : procedures.all()) {
            for (Point point : procedure.points()) {
                if (point.kind() == Point.Kind.NUMBER) {
                    String unit = point.unit().symbol();
                    readings.put(
                            procedure.key() + "." + point.key(),
                            procedure.name() + ": " + point.label() + (unit.isEmpty() ? "" : " (" + unit + ")"));
                }
            }
        }
        model.addAttribute("families", vehicles.families().keySet());
        model.addAttribute("readings", readings);
        model.addAttribute("scopes", SCOPES);
        return "bench/limits-form";
    }

    private static final Map<String, String> SCOPES = new LinkedHashMap<>();

    static {
        SCOPES.put("family", "an engine family");
        SCOPES.put("vehicle", "one vehicle");
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage limitsPage() {
            return new SetUpPage(
                    "Limits",
                    "/set-up/limits",
                    "Published limits for an engine family or a vehicle, each with its citation.",
                    Set.of(Role.OWNER));
        }
    }
}
