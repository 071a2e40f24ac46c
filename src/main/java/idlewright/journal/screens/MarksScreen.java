package idlewright.journal.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.journal.Marks;
import idlewright.journal.rules.ImageMark.Kind;
import idlewright.people.For;
import idlewright.people.Role;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A picture, what was drawn beside it, one more mark, and taking one away. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class MarksScreen {

    private static final Map<String, String> KINDS = new LinkedHashMap<>();

    static {
        KINDS.put(Kind.CIRCLE.name(), "circle");
        KINDS.put(Kind.ARROW.name(), "arrow");
        KINDS.put(Kind.WORDS.name(), "words alone");
    }

    /** Places as typed, or as the pointer put them. */
    record Form(
            @Nullable String kind,
            @Nullable String x,
            @Nullable String y,
            @Nullable String toX,
            @Nullable String toY,
            @Nullable String words) {}

    private final Marks marks;
    private final Problems problems;

    MarksScreen(Marks marks, Problems problems) {
        this.marks = marks;
        this.problems = problems;
    }

    @GetMapping("/exhibits/{id:\\d+}/marks")
    String look(@PathVariable long id, Model model) {
        model.addAttribute("form", new Form(Kind.CIRCLE.name(), null, null, null, null, null));
        return page(id, model);
    }

    @PostMapping("/exhibits/{id:\\d+}/marks")
    String add(@PathVariable long id, @ModelAttribute("form") Form form, Model model) {
        try {
            var typing = new Typing();
            String kind = form.kind() == null ? "" : form.kind();
            if (!KINDS.containsKey(kind)) {
                typing.wrong("kind", "Choose circle, arrow or words.");
            }
            BigDecimal x = typing.neededNumber("x", form.x(), "Say how far from the left, in percent of the picture.");
            BigDecimal y = typing.neededNumber("y", form.y(), "Say how far from the top, in percent of the picture.");
            BigDecimal toX = typing.number("toX", form.toX());
            BigDecimal toY = typing.number("toY", form.toY());
            typing.done();
            marks.add(id, Kind.valueOf(kind), x, y, toX, toY, form.words() == null ? "" : form.words());
            return "redirect:/exhibits/" + id + "/marks";
        } catch (Refused no) {
            return problems.show(model, no, page(id, model));
        }
    }

    @GetMapping("/exhibits/{id:\\d+}/marks/{mark:\\d+}/removal")
    String removing(@PathVariable long id, @PathVariable long mark, Model model) {
        return removal(id, mark, model);
    }

    @PostMapping("/exhibits/{id:\\d+}/marks/{mark:\\d+}/removal")
    String remove(
            @PathVariable long id,
            @PathVariable long mark,
            @RequestParam(required = false) @Nullable String reason,
            Model model,
            RedirectAttributes after) {
        try {
            marks.remove(id, mark, reason == null ? "" : reason);
            after.addFlashAttribute("notice", "The mark is no longer drawn.");
            return "redirect:/exhibits/" + id + "/marks";
        } catch (Refused no) {
            model.addAttribute("reason", reason);
            return problems.show(model, no, removal(id, mark, model));
        }
    }

    private String page(long id, Model model) {
        model.addAttribute("picture", marks.of(id));
        model.addAttribute("removed", marks.removed(id));
        model.addAttribute("kinds", KINDS);
        return "journal/marks";
    }

    private String removal(long id, long mark, Model model) {
        model.addAttribute("mark", marks.get(id, mark));
        model.addAttribute("picture", marks.of(id));
        return "journal/marks-removal";
    }
}
