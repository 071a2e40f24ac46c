package idlewright.billing.screens;

import idlewright.billing.Ledger;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.people.For;
import idlewright.people.Role;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ContentDisposition;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The journal for the bookkeeper. */
@Controller
@For({Role.WRITER, Role.OWNER})
class ExportScreen {

    private final Ledger ledger;
    private final Times times;
    private final Problems problems;

    ExportScreen(Ledger ledger, Times times, Problems problems) {
        this.ledger = ledger;
        this.times = times;
        this.problems = problems;
    }

    @GetMapping("/exports/journal")
    String journal(
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to,
            Model model) {
        try {
            show(span(from, to), model);
            return "billing/export";
        } catch (Refused no) {
            show(span(null, null), model);
            model.addAttribute("from", from);
            model.addAttribute("to", to);
            return problems.show(model, no, "billing/export");
        }
    }

    @GetMapping("/exports/journal.csv")
    ResponseEntity<byte[]> table(
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to) {
        Span span = span(from, to);
        return csv("journal-%s-%s.csv".formatted(span.from(), span.to()), ledger.journal(span.from(), span.to()));
    }

    static ResponseEntity<byte[]> csv(String name, byte[] table) {
        return ResponseEntity.ok()
                .contentType(MediaType.parseMediaType("text/csv;charset=UTF-8"))
                .header(
                        "Content-Disposition",
                        ContentDisposition.attachment().filename(name).build().toString())
                .body(table);
    }

    /** The month before, as a bookkeeper asks for it. */
    private Span span(@Nullable String from, @Nullable String to) {
        LocalDate month = times.today().withDayOfMonth(1).minusMonths(1);
        return Span.read(
                from,
                to,
                month,
                from == null && to == null ? month.plusMonths(1).minusDays(1) : times.today());
    }

    private void show(Span span, Model model) {
        var postings = ledger.postings(span.from(), span.to());
        model.addAttribute("postings", postings.stream().limit(200).toList());
        model.addAttribute("count", postings.size());
        model.addAttribute("span", span);
        model.addAttribute("from", span.from().toString());
        model.addAttribute("to", span.to().toString());
    }
}
