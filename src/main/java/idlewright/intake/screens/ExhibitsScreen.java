package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.journal.Exhibits;
import idlewright.journal.Marks;
import idlewright.people.For;
import idlewright.people.Role;
import java.io.IOException;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The photos and files of a ticket, and one more of them. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class ExhibitsScreen {

    private static final Map<String, String> WHAT = new LinkedHashMap<>();

    static {
        WHAT.put("photo", "photo");
        WHAT.put("log", "log or trace");
        WHAT.put("document", "document");
    }

    /** What came with the file. */
    record Form(
            @Nullable MultipartFile file,
            @Nullable String what,
            @Nullable String place,
            @Nullable String caption) {}

    private final Tickets tickets;
    private final Exhibits exhibits;
    private final Marks marks;
    private final Problems problems;

    ExhibitsScreen(Tickets tickets, Exhibits exhibits, Marks marks, Problems problems) {
        this.tickets = tickets;
        this.exhibits = exhibits;
        this.marks = marks;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/exhibits")
    String list(@PathVariable int number, Model model) {
        model.addAttribute("form", new Form(null, "photo", "0", null));
        return page(number, model);
    }

    @PostMapping("/tickets/{number:\\d+}/exhibits")
    String keep(@PathVariable int number, @ModelAttribute("form") Form form, Model model, RedirectAttributes after)
            throws IOException {
        var ticket = tickets.get(new TicketNumber(number));
        try {
            var typing = new Typing();
            var what = form.what() == null ? "photo" : form.what();
            var caption = form.caption() == null ? "" : form.caption();
            var place = form.place() == null || form.place().equals("0") ? null : place(typing, form.place());
            if (form.file() == null
                    || form.file().getOriginalFilename() == null
                    || form.file().getOriginalFilename().isBlank()) {
                typing.wrong("file", "Choose a file.");
            }
            if (!WHAT.containsKey(what)) {
                typing.wrong("what", "Choose what it is.");
            }
            if (caption.length() > 400) {
                typing.wrong("caption", "Keep it under 400 characters.");
            }
            typing.done();
            if (place != null) {
                ticket.symptom(place);
            }
            try (var bytes = form.file().getInputStream()) {
                exhibits.keep(bytes, form.file().getOriginalFilename(), number, place, what, caption);
            }
            after.addFlashAttribute("notice", "The file was kept.");
            return "redirect:/tickets/" + number + "/exhibits";
        } catch (Refused no) {
            return problems.show(model, no, page(number, model));
        }
    }

    private static @Nullable Integer place(Typing typing, String typed) {
        if (typed.matches("\\d{1,3}")) {
            return Integer.valueOf(typed);
        }
        typing.wrong("place", "Choose what it belongs to.");
        return null;
    }

    private String page(int number, Model model) {
        var ticket = tickets.get(new TicketNumber(number));
        var places = new LinkedHashMap<String, String>();
        places.put("0", "the whole visit");
        ticket.symptoms().forEach(symptom -> places.put("" + symptom.place(), symptom.kindName()));
        model.addAttribute("ticket", ticket);
        model.addAttribute("places", places);
        model.addAttribute("whats", WHAT);
        var kept = exhibits.of(number);
        model.addAttribute("exhibits", kept);
        model.addAttribute("marked", marks.on(kept));
        model.addAttribute("struck", exhibits.struck(number));
        return "intake/exhibits";
    }
}
