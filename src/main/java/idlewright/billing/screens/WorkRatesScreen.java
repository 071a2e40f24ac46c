package idlewright.billing.screens;

import idlewright.billing.Rates;
import idlewright.billing.WorkRates;
import idlewright.billing.rules.HoursStep;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import java.math.BigDecimal;
import java.util.ArrayList;
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
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The kinds of work and their hours' prices. */
@Controller
@For(Role.OWNER)
class WorkRatesScreen {

    /** One line of the form, as typed. */
    record Row(int nr, @Nullable String name, @Nullable String rate) {}

    private static final int ROWS = 12;

    private final WorkRates workRates;
    private final Rates rates;
    private final Problems problems;

    WorkRatesScreen(WorkRates workRates, Rates rates, Problems problems) {
        this.workRates = workRates;
        this.rates = rates;
        this.problems = problems;
    }

    @GetMapping("/set-up/work-rates")
    String workRates(Model model) {
        WorkRates.Card card = workRates.card();
        var rows = new ArrayList<Row>();
        for (WorkRates.Kind kind : card.kinds()) {
            rows.add(new Row(rows.size() + 1, kind.name(), plain(kind.rate())));
        }
        return show(rows, card.rounding().name(), plain(card.costRate()), card.version(), model);
    }

    @PostMapping("/set-up/work-rates")
    String set(
            @RequestParam long version,
            @RequestParam Map<String, String> typed,
            @RequestParam(required = false) @Nullable String rounding,
            @RequestParam(required = false) @Nullable String costRate,
            Model model,
            RedirectAttributes after) {
        var rows = rows(typed);
        try {
            var typing = new Typing();
            var kinds = new ArrayList<WorkRates.Kind>();
            for (Row row : rows) {
                String name = typing.needed("name-" + row.nr(), row.name(), "Name the kind of work.");
                kinds.add(new WorkRates.Kind(name, typing.amount("rate-" + row.nr(), row.rate())));
            }
            BigDecimal cost = typing.amount("costRate", costRate);
            HoursStep how = null;
            for (HoursStep each : HoursStep.values()) {
                how = each.name().equals(rounding) ? each : how;
            }
            if (how == null) {
                typing.wrong("rounding", "Choose how hours are rounded.");
            }
            typing.done();
            workRates.set(kinds, how == null ? HoursStep.EXACT : how, cost, version);
            after.addFlashAttribute("notice", "The kinds of work are kept; what is charged already keeps its price.");
            return "redirect:/set-up/work-rates";
        } catch (Refused no) {
            return problems.show(model, no, show(rows, rounding, costRate, version, model));
        }
    }

    /** Lines with neither name nor rate are left out, so that a kind is taken away by emptying its line. */
    private static List<Row> rows(Map<String, String> typed) {
        var rows = new ArrayList<Row>();
        for (int i = 1; i <= ROWS; i++) {
            String name = typed.getOrDefault("name-" + i, "").strip();
            String rate = typed.getOrDefault("rate-" + i, "").strip();
            if (!name.isEmpty() || !rate.isEmpty()) {
                rows.add(new Row(rows.size() + 1, name, rate));
            }
        }
        return rows;
    }

    private String show(
            List<Row> rows, @Nullable String rounding, @Nullable String costRate, long version, Model model) {
        var all = new ArrayList<>(rows);
        while (all.size() < Math.min(ROWS, rows.size() + 2)) {
            all.add(new Row(all.size() + 1, null, null));
        }
        var roundings = new LinkedHashMap<String, String>();
        for (HoursStep each : HoursStep.values()) {
            roundings.put(each.name(), each.words());
        }
        model.addAttribute("rows", all);
        model.addAttribute("rounding", rounding);
        model.addAttribute("costRate", costRate);
        model.addAttribute("roundings", roundings);
        model.addAttribute("version", version);
        model.addAttribute("currency", rates.currency().getCurrencyCode());
        model.addAttribute("hour", rates.labourRate());
        model.addAttribute("prices", rates.card().prices().words());
        return "billing/work-rates";
    }

    private static @Nullable String plain(@Nullable BigDecimal amount) {
        return amount == null ? null : amount.toPlainString();
    }

    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {
        @Bean
        SetUpPage workRatesPage() {
            return new SetUpPage(
                    "Kinds of work",
                    "/set-up/work-rates",
                    "What an hour of which work costs, how clocked hours are rounded, what an hour costs the shop",
                    Set.of(Role.OWNER));
        }
    }
}
