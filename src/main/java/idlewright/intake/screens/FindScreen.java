package idlewright.intake.screens;

import idlewright.intake.Finds;
import idlewright.intake.Finds.Hit;
import idlewright.people.For;
import idlewright.people.Role;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** One box for everything: every room answers for what it owns. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class FindScreen {

    private final List<Finds> rooms;

    FindScreen(List<Finds> rooms) {
        this.rooms = rooms;
    }

    @GetMapping("/find")
    String find(@RequestParam(required = false) @Nullable String q, Model model) {
        List<Hit> hits = hits(q);
        if (hits.size() == 1 && hits.get(0).kind().equals("ticket")) {
            return "redirect:" + hits.get(0).url();
        }
        model.addAttribute("q", q == null ? "" : q.strip());
        model.addAttribute("hits", hits);
        return "intake/find";
    }

    @GetMapping("/find/suggestions")
    String suggestions(@RequestParam(required = false) @Nullable String q, Model model) {
        model.addAttribute("hits", hits(q).stream().limit(8).toList());
        return "intake/find :: suggestions";
    }

    private List<Hit> hits(@Nullable String q) {
        String words = q == null ? "" : q.strip();
        if (words.length() < 2) {
            return List.of();
        }
        return rooms.stream()
                .flatMap(room -> room.find(words.length() > 80 ? words.substring(0, 80) : words).stream())
                .toList();
    }
}
