package idlewright.bench.screens;

import idlewright.bench.KnownGoods;
import idlewright.bench.Library;
import idlewright.frame.NotFound;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.For;
import idlewright.people.Role;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The shop's own reference, by engine family; the owner strikes a reading out, and may take the strike back. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
@RequestMapping("/known-good")
class KnownGoodScreen {

    private final Library library;
    private final KnownGoods knownGoods;
    private final Problems problems;

    KnownGoodScreen(Library library, KnownGoods knownGoods, Problems problems) {
        this.library = library;
        this.knownGoods = knownGoods;
        this.problems = problems;
    }

    /** With this few readings there is nothing to choose from: all of a family stand on one page. */
    private static final int FEW = 8;

    /** The shelves of one test. */
    record Case(String key, String name, List<Library.Shelf> shelves) {}

    @GetMapping
    String families(@RequestParam @Nullable String family, @RequestParam @Nullable String test, Model model) {
        model.addAttribute("families", library.families());
        model.addAttribute("family", family);
        model.addAttribute("title", family == null ? "Known good" : "Known good, " + family);
        if (family == null) {
            return "bench/known-good";
        }
        var shelves = library.shelves(family);
        List<Case> cases = shelves.stream()
                .collect(Collectors.groupingBy(Library.Shelf::procedure, LinkedHashMap::new, Collectors.toList()))
                .entrySet()
                .stream()
                .map(one -> new Case(one.getKey(), one.getValue().get(0).procedureName(), one.getValue()))
                .toList();
        List<Case> open = test != null
                ? cases.stream().filter(one -> one.key().equals(test)).toList()
                : shelves.size() <= FEW ? cases : List.of();
        if (shelves.isEmpty() || test != null && open.isEmpty()) {
            throw NotFound.of("known-good reading of engine family " + family);
        }
        model.addAttribute("cases", cases);
        model.addAttribute("open", open);
        model.addAttribute("test", test);
        if (test != null) {
            model.addAttribute(
                    "title", "Known good, %s, %s".formatted(family, open.get(0).name()));
        }
        return "bench/known-good";
    }

    @GetMapping("/{id:\\d+}/strike")
    @For(Role.OWNER)
    String askWhyStruck(@PathVariable long id, Model model) {
        return page(id, null, model, "bench/known-good-strike");
    }

    @PostMapping("/{id:\\d+}/strike")
    @For(Role.OWNER)
    String strike(@PathVariable long id, @RequestParam @Nullable String reason, Model model, RedirectAttributes after) {
        try {
            knownGoods.strike(id, reason);
            after.addFlashAttribute("notice", "The reading is struck out; it stays in sight and judges nothing.");
            return "redirect:" + family(id);
        } catch (Refused no) {
            return problems.show(model, no, page(id, reason, model, "bench/known-good-strike"));
        }
    }

    @GetMapping("/{id:\\d+}/return")
    @For(Role.OWNER)
    String askWhyBack(@PathVariable long id, Model model) {
        return page(id, null, model, "bench/known-good-return");
    }

    @PostMapping("/{id:\\d+}/return")
    @For(Role.OWNER)
    String takeBack(
            @PathVariable long id, @RequestParam @Nullable String reason, Model model, RedirectAttributes after) {
        try {
            library.takeBack(id, reason);
            after.addFlashAttribute("notice", "The reading counts again from now on.");
            return "redirect:" + family(id);
        } catch (Refused no) {
            return problems.show(model, no, page(id, reason, model, "bench/known-good-return"));
        }
    }

    private String page(long id, @Nullable String reason, Model model, String template) {
        model.addAttribute("good", knownGoods.get(id));
        model.addAttribute("url", family(id));
        model.addAttribute("reason", reason);
        return template;
    }

    private String family(long id) {
        var good = knownGoods.get(id);
        return "/known-good?family=%s&test=%s#%s-%s"
                .formatted(
                        URLEncoder.encode(good.engineFamily(), StandardCharsets.UTF_8),
                        good.procedure(),
                        good.procedure(),
                        good.point());
    }
}
