package idlewright.warranty.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.warranty.Cores;
import idlewright.warranty.Cores.Core;
import idlewright.warranty.Recovery;
import idlewright.warranty.rules.CoreStep;
import java.math.BigDecimal;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Cores to return, returned and credited. */
@Controller
@For({Role.WRITER, Role.OWNER})
class CoreScreen {

    /** What was typed; the day as 2026-11-09. */
    record Form(
            @Nullable String kind,
            @Nullable String amount,
            @Nullable String day,
            @Nullable String note) {}

    private final Cores cores;
    private final Recovery recovery;
    private final Problems problems;
    private final Times times;

    CoreScreen(Cores cores, Recovery recovery, Problems problems, Times times) {
        this.cores = cores;
        this.recovery = recovery;
        this.problems = problems;
        this.times = times;
    }

    @GetMapping("/cores")
    String list(
            @RequestParam(required = false) @Nullable String supplier,
            @RequestParam(required = false) @Nullable String show,
            Model model) {
        List<Core> open = cores.open().stream()
                .filter(core -> recovery.is(supplier, core.supplier()))
                .filter(core -> !"to-return".equals(show) || core.returnedOn() == null)
                .toList();
        model.addAttribute("open", open);
        model.addAttribute("over", show == null ? cores.over(supplier) : List.of());
        model.addAttribute("supplier", supplier);
        model.addAttribute("show", show);
        model.addAttribute("missing", Money.sum(open.stream().map(Core::missing).toList(), cores.currency()));
        model.addAttribute("recovery", recovery);
        return "warranty/core-list";
    }

    @GetMapping("/cores.csv")
    ResponseEntity<byte[]> table(@RequestParam(required = false) @Nullable String supplier) {
        return ResponseEntity.ok()
                .contentType(MediaType.parseMediaType("text/csv;charset=UTF-8"))
                .header("Content-Disposition", "attachment; filename=\"cores.csv\"")
                .body(recovery.coresTable(supplier));
    }

    @GetMapping("/swaps/{id:\\d+}/core")
    String core(@PathVariable long id, Model model) {
        Core core = cores.get(id);
        String amount = core.has(CoreStep.CHARGED)
                ? null
                : cores.onTheInvoice(core)
                        .map(money -> money.amount().toPlainString())
                        .orElse(null);
        model.addAttribute("form", new Form(null, amount, times.today().toString(), null));
        return show(core, model);
    }

    @PostMapping("/swaps/{id:\\d+}/core")
    String step(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            CoreStep kind = null;
            for (CoreStep each : CoreStep.values()) {
                kind = each.name().equals(form.kind()) ? each : kind;
            }
            if (kind == null) {
                typing.wrong("kind", "Choose what happened.");
            }
            BigDecimal amount = typing.amount("amount", form.amount());
            LocalDate day = times.today();
            try {
                day = LocalDate.parse(form.day() == null ? "" : form.day());
            } catch (DateTimeException e) {
                typing.wrong("day", "Enter the day, like 2026-11-09.");
            }
            typing.done();
            cores.step(
                    id,
                    kind == null ? CoreStep.RETURNED : kind,
                    amount == null ? null : Money.rounded(amount, cores.currency()),
                    day,
                    form.note() == null ? "" : form.note());
            return "redirect:/swaps/" + id + "/core";
        } catch (Refused no) {
            return problems.show(model, no, show(cores.get(id), model));
        }
    }

    private String show(Core core, Model model) {
        model.addAttribute("core", core);
        Map<String, String> kinds = new LinkedHashMap<>();
        kinds.put("CHARGED", "The supplier charged for it");
        kinds.put("RETURNED", "It went back");
        kinds.put("CREDITED", "Money came for it");
        kinds.put("WRITTEN_OFF", "Nothing more is expected");
        var before = core.steps().stream().map(Cores.Step::kind).toList();
        kinds.keySet().removeIf(kind -> !CoreStep.valueOf(kind).mayFollow(before));
        model.addAttribute("kinds", kinds);
        model.addAttribute("currency", cores.currency().getCurrencyCode());
        return "warranty/core";
    }
}
