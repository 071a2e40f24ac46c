package idlewright.bench.screens;

import idlewright.bench.Procedures;
import idlewright.bench.Procedures.Asked;
import idlewright.bench.Procedures.Telling;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Limit;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.frame.NotFound;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
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

/** How tests are done here: the catalogue, readable in full, and the shop's own procedures beside it. */
@Controller
@For({Role.OWNER, Role.TECHNICIAN, Role.WRITER})
@RequestMapping("/set-up/procedures")
class ProceduresScreen {

    private static final int ROWS = 6;
    private static final Map<String, String> STATES = new LinkedHashMap<>();
    private static final Map<String, String> UNITS = new LinkedHashMap<>();
    private static final Map<String, String> GROUNDS = new LinkedHashMap<>();

    static {
        Arrays.stream(KeyState.values()).forEach(state -> STATES.put(state.name(), state.words()));
        Arrays.stream(Unit.values())
                .forEach(unit -> UNITS.put(
                        unit.name(), (unit.symbol() + ", " + unit.dimension().words()).replaceFirst("^, ", "")));
        Arrays.stream(Ground.values())
                .filter(ground -> ground != Ground.KNOWN_GOOD)
                .forEach(ground -> GROUNDS.put(ground.name(), ground.words()));
    }

    /** One reading as typed. */
    record Row(
            @Nullable String label,
            @Nullable String unit,
            @Nullable String low,
            @Nullable String high,
            @Nullable String ground,
            @Nullable String citation) {

        private static final Row BLANK = new Row(null, null, null, null, null, null);

        public boolean blank() {
            return equals(BLANK);
        }

        static Row from(Point point) {
            Limit limit = point.limit();
            return new Row(
                    point.label(),
                    point.unit().name(),
                    limit == null || limit.low() == null ? null : plain(limit.low()),
                    limit == null || limit.high() == null ? null : plain(limit.high()),
                    limit == null ? null : limit.ground().name(),
                    limit == null || limit.citation().equals(Limit.NO_SOURCE) ? null : limit.citation());
        }

        private static String plain(double value) {
            return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
        }
    }

    /** What the owner typed; cautions and steps a line each. */
    record Form(
            @Nullable String name,
            @Nullable String purpose,
            @Nullable String state,
            @Nullable String minutes,
            @Nullable String caution,
            @Nullable String steps,
            @Nullable List<Row> points) {

        static Form from(Procedure p) {
            return new Form(
                    p.name(),
                    p.purpose(),
                    p.state().name(),
                    String.valueOf(p.minutes()),
                    String.join("\n", p.cautions()),
                    String.join("\n", p.steps()),
                    p.points().stream().map(Row::from).toList());
        }

        Telling telling() {
            var typing = new Typing();
            var asked = new ArrayList<Asked>();
            List<Row> rows = points == null ? List.of() : points;
            for (Row row : rows) {
                if (row == null || row.blank()) {
                    continue;
                }
                String at = "points[" + asked.size() + "].";
                asked.add(new Asked(
                        row.label(),
                        UNITS.containsKey(String.valueOf(row.unit())) ? Unit.valueOf(row.unit()) : null,
                        figure(typing, at + "low", row.low(), row.unit()),
                        figure(typing, at + "high", row.high(), row.unit()),
                        GROUNDS.containsKey(String.valueOf(row.ground())) ? Ground.valueOf(row.ground()) : null,
                        row.citation()));
            }
            var telling = new Telling(
                    name,
                    purpose,
                    STATES.containsKey(String.valueOf(state)) ? KeyState.valueOf(state) : null,
                    typing.whole("minutes", minutes),
                    lines(caution),
                    lines(steps),
                    asked);
            typing.done();
            return telling;
        }

        /** The rows that say something, moved up, then blank ones to write on. */
        List<Row> rows() {
            var rows = new ArrayList<Row>();
            if (points != null) {
                points.stream().filter(row -> row != null && !row.blank()).forEach(rows::add);
            }
            while (rows.size() < ROWS) {
                rows.add(Row.BLANK);
            }
            return rows;
        }

        private static @Nullable Double figure(
                Typing typing, String field, @Nullable String typed, @Nullable String unit) {
            boolean counts = UNITS.containsKey(String.valueOf(unit))
                    && Unit.valueOf(String.valueOf(unit)).counts();
            BigDecimal read = counts ? typing.count(field, typed) : typing.number(field, typed);
            return read == null ? null : (Double) read.doubleValue();
        }

        private static List<String> lines(@Nullable String typed) {
            return typed == null
                    ? List.of()
                    : typed.lines()
                            .map(String::strip)
                            .filter(line -> !line.isEmpty())
                            .toList();
        }
    }

    private final Procedures procedures;
    private final Problems problems;

    ProceduresScreen(Procedures procedures, Problems problems) {
        this.procedures = procedures;
        this.problems = problems;
    }

    @GetMapping
    String list(Model model) {
        model.addAttribute("own", procedures.own());
        model.addAttribute(
                "catalogue",
                procedures.all().stream()
                        .filter(each -> !Procedures.own(each.key()))
                        .toList());
        return "bench/procedures";
    }

    @GetMapping("/{key:[a-z0-9-]+}")
    String one(@PathVariable String key, Model model) {
        model.addAttribute("procedure", find(key));
        model.addAttribute("own", Procedures.own(key));
        model.addAttribute("retired", procedures.retired(key));
        return "bench/procedures-one";
    }

    @GetMapping("/new")
    @For(Role.OWNER)
    String fresh(Model model) {
        return page(new Form(null, null, "RUNNING", null, null, null, null), model);
    }

    @PostMapping
    @For(Role.OWNER)
    String write(@ModelAttribute("form") Form form, Model model) {
        try {
            return "redirect:/set-up/procedures/" + procedures.write(form.telling());
        } catch (Refused no) {
            return problems.show(model, no, page(form, model));
        }
    }

    @GetMapping("/{key:own-[0-9a-f]+}/amendment")
    @For(Role.OWNER)
    String askWhatChanges(@PathVariable String key, Model model) {
        Procedure procedure = find(key);
        model.addAttribute("procedure", procedure);
        model.addAttribute("version", procedure.version());
        return page(Form.from(procedure), model);
    }

    @PostMapping("/{key:own-[0-9a-f]+}/amendment")
    @For(Role.OWNER)
    String amend(@PathVariable String key, @RequestParam int version, @ModelAttribute("form") Form form, Model model) {
        try {
            procedures.amend(key, version, form.telling());
            return "redirect:/set-up/procedures/" + key;
        } catch (Refused no) {
            model.addAttribute("procedure", find(key));
            model.addAttribute("version", version);
            return problems.show(model, no, page(form, model));
        }
    }

    @PostMapping("/{key:own-[0-9a-f]+}/retirement")
    @For(Role.OWNER)
    String retire(@PathVariable String key) {
        procedures.retire(key);
        return "redirect:/set-up/procedures";
    }

    private Procedure find(String key) {
        return procedures.find(key).orElseThrow(() -> NotFound.of("procedure " + key));
    }

    private static String page(Form form, Model model) {
        model.addAttribute("form", form);
        model.addAttribute("rows", form.rows());
        model.addAttribute("states", STATES);
        model.addAttribute("units", UNITS);
        model.addAttribute("grounds", GROUNDS);
        return "bench/procedures-form";
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage proceduresPage() {
            return new SetUpPage(
                    "Procedures",
                    "/set-up/procedures",
                    "How tests are done: the catalogue in full, and the shop's own.",
                    Set.of(Role.OWNER, Role.TECHNICIAN, Role.WRITER));
        }
    }
}
