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

    @GetMapping
    String families(@RequestParam @Nullable String family, Model model) {
        var families = library.families();
        String shown = family != null
                ? family
                : families.isEmpty() ? null : families.get(0).name();
        model.addAttribute("families", families);
        model.addAttribute("family", shown);
        if (shown != null) {
            var shelves = library.shelves(shown);
            if (shelves.isEmpty()) {
                throw NotFound.of("known-good reading of engine family " + shown);
            }
            model.addAttribute("shelves", shelves);
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
        return "/known-good?family=" + URLEncoder.encode(knownGoods.get(id).engineFamily(), StandardCharsets.UTF_8);
    }
}
