package idlewright.journal.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.journal.Journal;
import idlewright.journal.rules.Entry;
import idlewright.journal.rules.Verification;
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
    private final Times times;
    private final Problems problems;

    JournalScreen(Journal journal, Times times, Problems problems) {
        this.times = times;
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
    String latest(
            @RequestParam(name = "ticket") @Nullable String typed, @RequestParam @Nullable Long before, Model model) {
        String number = typed == null ? "" : typed.strip();
        if (number.isEmpty()) {
            return page(null, before, model);
        }
        model.addAttribute("typed", typed);
        if (!number.matches("[0-9]{1,10}") || Long.parseLong(number) > Integer.MAX_VALUE) {
            return problems.show(
                    model,
                    Refused.at("ticket", "Enter the number of a ticket, like 1042, or nothing for all of them."),
                    page(null, before, model));
        }
        return page(Integer.valueOf(number), before, model);
    }

    @PostMapping("/journal/verification")
    String verify(@RequestParam(name = "head") @Nullable String typed, Model model, RedirectAttributes after) {
        // On paper a hash may be broken into pieces.
        String head = typed == null || typed.isBlank() ? null : typed.replaceAll("\\s+", "");
        if (head != null && !head.matches("[0-9A-Fa-f]{64}")) {
            model.addAttribute("kept", typed);
            return problems.show(
                    model,
                    Refused.at("head", "A hash has 64 characters, 0 to 9 and a to f. Compare it with your paper."),
                    page(null, null, model));
        }
        var outcome = journal.check(head);
        after.addFlashAttribute("notice", outcome.sentence() + met(outcome));
        return "redirect:/journal";
    }

    private String met(Verification outcome) {
        Long entry = outcome.knownAt();
        if (entry == null) {
            return "";
        }
        if (entry == 0) {
            return " The hash you kept stands before the first entry: it says nothing.";
        }
        return " The hash you kept is that of entry %,d, written on %s: up to there nothing was changed, taken out or put in since."
                .formatted(entry, times.at(journal.latest(1, entry + 1).get(0).at()));
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
