package idlewright.bench.screens;

import idlewright.bench.Bench;
import idlewright.bench.Logs;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.obd.log.LogQuantity;
import java.io.IOException;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The logs of a test: one more is kept; one that is kept is looked at, its columns said, its states turned into readings. */
@Controller
@For({Role.TECHNICIAN, Role.OWNER})
@RequestMapping("/measurements/{id:\\d+}/log")
class LogScreen {

    private static final Map<String, String> QUANTITIES = new LinkedHashMap<>();

    static {
        Arrays.stream(LogQuantity.values()).forEach(each -> QUANTITIES.put(each.name(), each.words()));
    }

    private final Logs logs;
    private final Bench bench;
    private final Tickets tickets;
    private final Problems problems;

    LogScreen(Logs logs, Bench bench, Tickets tickets, Problems problems) {
        this.logs = logs;
        this.bench = bench;
        this.tickets = tickets;
        this.problems = problems;
    }

    @GetMapping
    String list(@PathVariable long id, Model model) {
        return list(id, model, "bench/log");
    }

    @PostMapping
    String keep(@PathVariable long id, @RequestParam @Nullable MultipartFile file, Model model) throws IOException {
        try {
            String name = file == null ? null : file.getOriginalFilename();
            if (file == null || name == null || name.isBlank()) {
                throw Refused.at("file", "Choose the log the scan tool wrote.");
            }
            try (var bytes = file.getInputStream()) {
                return "redirect:/measurements/" + id + "/log/"
                        + logs.keep(id, bytes, name).id();
            }
        } catch (Refused no) {
            return problems.show(model, no, list(id, model, "bench/log"));
        }
    }

    @GetMapping("/{exhibit:\\d+}")
    String one(@PathVariable long id, @PathVariable long exhibit, Model model) {
        return one(id, exhibit, Map.of(), model);
    }

    /** Headers and what each is, in the same order. */
    @PostMapping("/{exhibit:\\d+}/columns")
    String columns(
            @PathVariable long id,
            @PathVariable long exhibit,
            @RequestParam MultiValueMap<String, String> typed,
            RedirectAttributes after) {
        List<String> header = typed.getOrDefault("header", List.of());
        List<String> quantity = typed.getOrDefault("quantity", List.of());
        var said = new HashMap<String, LogQuantity>();
        for (int i = 0; i < Math.min(header.size(), quantity.size()); i++) {
            if (QUANTITIES.containsKey(quantity.get(i))) {
                said.put(header.get(i), LogQuantity.valueOf(quantity.get(i)));
            }
        }
        logs.remember(id, exhibit, said);
        after.addFlashAttribute("notice", "The columns are remembered for every log with these headers.");
        return "redirect:/measurements/" + id + "/log/" + exhibit;
    }

    @PostMapping("/{exhibit:\\d+}/readings")
    @For(Role.TECHNICIAN)
    String take(
            @PathVariable long id,
            @PathVariable long exhibit,
            @RequestParam Map<String, String> typed,
            Model model,
            RedirectAttributes after) {
        var chosen = new HashMap<String, Integer>();
        typed.forEach((name, place) -> {
            if (name.startsWith("take-") && place.matches("\\d{1,6}")) {
                chosen.put(name.substring(5), Integer.valueOf(place));
            }
        });
        try {
            int kept = logs.take(id, exhibit, chosen);
            after.addFlashAttribute(
                    "notice", kept + (kept == 1 ? " reading was" : " readings were") + " taken from the log.");
            return "redirect:/measurements/" + id;
        } catch (Refused no) {
            return problems.show(model, no, one(id, exhibit, typed, model));
        }
    }

    @PostMapping("/{exhibit:\\d+}/sweep")
    @For(Role.TECHNICIAN)
    String sweep(
            @PathVariable long id,
            @PathVariable long exhibit,
            @RequestParam(defaultValue = "-1") int pull,
            Model model) {
        try {
            return "redirect:/measurements/" + id + "?read=" + logs.takeSweep(id, exhibit, pull);
        } catch (Refused no) {
            return problems.show(model, no, one(id, exhibit, Map.of(), model));
        }
    }

    private String list(long id, Model model, String template) {
        var test = bench.get(id);
        model.addAttribute("test", test);
        var ticket = tickets.get(test.ticket());
        model.addAttribute("ticket", ticket);
        model.addAttribute("car", Car.of(ticket));
        model.addAttribute("logs", logs.of(id));
        return template;
    }

    private String one(long id, long exhibit, Map<String, String> typed, Model model) {
        var log = logs.read(id, exhibit);
        model.addAttribute("log", log);
        model.addAttribute("test", log.test());
        var ticket = tickets.get(log.test().ticket());
        model.addAttribute("ticket", ticket);
        model.addAttribute("car", Car.of(ticket));
        model.addAttribute("quantities", QUANTITIES);
        model.addAttribute("typed", typed);
        return "bench/log-kept";
    }
}
