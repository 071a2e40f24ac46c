package idlewright.bench.screens;

import idlewright.bench.Instruments;
import idlewright.bench.Instruments.InstrumentView;
import idlewright.bench.Instruments.Telling;
import idlewright.bench.rules.InstrumentKind;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import idlewright.people.Shops;
import idlewright.reference.units.Unit;
import java.math.BigDecimal;
import java.time.Clock;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
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

/** The shop's instruments: what each promises, and when it is to be calibrated again. */
@Controller
@For(Role.OWNER)
@RequestMapping("/set-up/instruments")
class InstrumentsScreen {

    private static final Map<String, String> KINDS = new LinkedHashMap<>();
    private static final Map<String, String> UNITS = new LinkedHashMap<>();

    static {
        Arrays.stream(InstrumentKind.values()).forEach(kind -> KINDS.put(kind.name(), kind.words()));
        Arrays.stream(Unit.values())
                .filter(unit -> !unit.symbol().isEmpty())
                .forEach(unit -> UNITS.put(
                        unit.symbol(), unit.symbol() + ", " + unit.dimension().words()));
    }

    /** What the owner typed. */
    record Form(
            @Nullable String name,
            @Nullable String kind,
            @Nullable String percentOfReading,
            @Nullable String digits,
            @Nullable String resolution,
            @Nullable String resolutionUnit,
            @Nullable String calibrationDue) {

        static Form blank() {
            return new Form(null, null, null, null, null, null, null);
        }

        static Form from(InstrumentView i) {
            return new Form(
                    i.name(),
                    i.kind().name(),
                    plain(i.percentOfReading()),
                    plain(i.digits()),
                    i.resolution() == null ? null : plain(i.resolution()),
                    i.resolutionUnit(),
                    i.calibrationDue() == null ? null : i.calibrationDue().toString());
        }

        private static String plain(BigDecimal value) {
            return value.stripTrailingZeros().toPlainString();
        }

        Telling telling() {
            var typing = new Typing();
            var telling = new Telling(
                    name,
                    KINDS.containsKey(String.valueOf(kind)) ? InstrumentKind.valueOf(kind) : null,
                    typing.number("percentOfReading", percentOfReading),
                    typing.number("digits", digits),
                    typing.number("resolution", resolution),
                    UNITS.containsKey(String.valueOf(resolutionUnit)) ? resolutionUnit : null,
                    date(typing));
            typing.done();
            return telling;
        }

        private @Nullable LocalDate date(Typing typing) {
            try {
                return calibrationDue == null ? null : LocalDate.parse(calibrationDue);
            } catch (DateTimeParseException e) {
                typing.wrong("calibrationDue", "Enter the date as year, month, day: 2027-03-31.");
                return null;
            }
        }
    }

    private final Instruments instruments;
    private final Shops shops;
    private final Clock clock;
    private final Problems problems;

    InstrumentsScreen(Instruments instruments, Shops shops, Clock clock, Problems problems) {
        this.instruments = instruments;
        this.shops = shops;
        this.clock = clock;
        this.problems = problems;
    }

    @GetMapping
    String list(Model model) {
        model.addAttribute("instruments", instruments.all());
        model.addAttribute(
                "today", LocalDate.ofInstant(clock.instant(), shops.shop().zone()));
        return "bench/instruments";
    }

    @GetMapping("/new")
    String fresh(Model model) {
        model.addAttribute("form", Form.blank());
        return page(model);
    }

    @PostMapping
    String add(@ModelAttribute("form") Form form, Model model) {
        try {
            instruments.add(form.telling());
            return "redirect:/set-up/instruments";
        } catch (Refused no) {
            return problems.show(model, no, page(model));
        }
    }

    @GetMapping("/{id:\\d+}")
    String one(@PathVariable long id, Model model) {
        InstrumentView instrument = instruments.get(id);
        model.addAttribute("form", Form.from(instrument));
        return page(id, instrument.version(), model);
    }

    @PostMapping("/{id:\\d+}")
    String amend(@PathVariable long id, @RequestParam int version, @ModelAttribute("form") Form form, Model model) {
        try {
            instruments.amend(id, version, form.telling());
            return "redirect:/set-up/instruments";
        } catch (Refused no) {
            return problems.show(model, no, page(id, version, model));
        }
    }

    @PostMapping("/{id:\\d+}/retirement")
    String retire(@PathVariable long id) {
        instruments.retire(id);
        return "redirect:/set-up/instruments";
    }

    private String page(long id, int version, Model model) {
        model.addAttribute("instrument", instruments.get(id));
        model.addAttribute("version", version);
        return page(model);
    }

    private static String page(Model model) {
        model.addAttribute("kinds", KINDS);
        model.addAttribute("units", UNITS);
        return "bench/instruments-form";
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage instrumentsPage() {
            return new SetUpPage(
                    "Instruments",
                    "/set-up/instruments",
                    "Meters and tools, what they promise, when they are calibrated.",
                    Set.of(Role.OWNER));
        }
    }
}
