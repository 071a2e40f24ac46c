package idlewright.journal.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.journal.Journal;
import idlewright.journal.rules.Entry;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.SetUpPage;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
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

/** The journal as the owner reads it, and the check of its chain. */
@Controller
@For(Role.OWNER)
class JournalScreen {

    private static final int PAGE = 50;

    private final Journal journal;
    private final Problems problems;

    JournalScreen(Journal journal, Problems problems) {
        this.journal = journal;
        this.problems = problems;
    }

    /** The journal among the owner's pages. */
    @Configuration(proxyBeanMethods = false)
    static class OnSetUp {

        @Bean
        SetUpPage journalPage() {
            return new SetUpPage(
                    "Journal", "/journal", "Who did what, and whether it is all still so", Set.of(Role.OWNER));
        }
    }

    @GetMapping("/journal")
    String latest(@RequestParam @Nullable Integer ticket, @RequestParam @Nullable Long before, Model model) {
        return page(ticket, before, model);
    }

    @PostMapping("/journal/verification")
    String verify(@RequestParam @Nullable String head, Model model, RedirectAttributes after) {
        if (head != null && !head.strip().matches("[0-9A-Fa-f]{64}")) {
            model.addAttribute("kept", head);
            return problems.show(
                    model,
                    Refused.at("head", "A hash has 64 characters, 0 to 9 and a to f. Compare it with your paper."),
                    page(null, null, model));
        }
        after.addFlashAttribute("notice", journal.check(head).sentence());
        return "redirect:/journal";
    }

    private String page(@Nullable Integer ticket, @Nullable Long before, Model model) {
        var entries = ticket == null
                ? journal.latest(PAGE, before == null ? Long.MAX_VALUE : before)
                : newestFirst(journal.of(ticket));
        model.addAttribute("entries", entries);
        model.addAttribute("ticket", ticket);
        model.addAttribute("head", journal.head());
        model.addAttribute("check", journal.lastCheck().orElse(null));
        var more = ticket == null
                && entries.size() == PAGE
                && entries.get(PAGE - 1).id() > 1;
        model.addAttribute("older", more ? entries.get(PAGE - 1).id() : null);
        return "journal/journal";
    }

    private static List<Entry> newestFirst(List<Entry> entries) {
        var turned = new ArrayList<>(entries);
        Collections.reverse(turned);
        return turned;
    }
}
