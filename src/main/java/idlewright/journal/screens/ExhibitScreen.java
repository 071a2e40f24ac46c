package idlewright.journal.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.journal.Exhibits;
import idlewright.people.For;
import idlewright.people.Role;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import org.jspecify.annotations.Nullable;
import org.springframework.core.io.FileSystemResource;
import org.springframework.core.io.Resource;
import org.springframework.http.CacheControl;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** A kept file: its original, its picture, and striking it out. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class ExhibitScreen {

    private final Exhibits exhibits;
    private final Problems problems;

    ExhibitScreen(Exhibits exhibits, Problems problems) {
        this.exhibits = exhibits;
        this.problems = problems;
    }

    @GetMapping("/exhibits/{id:\\d+}")
    ResponseEntity<Resource> original(@PathVariable long id) {
        var exhibit = exhibits.get(id);
        return answer(exhibit.mime(), exhibit.sha256())
                .header(
                        HttpHeaders.CONTENT_DISPOSITION,
                        ContentDisposition.attachment()
                                .filename(exhibit.name(), StandardCharsets.UTF_8)
                                .build()
                                .toString())
                .body(new FileSystemResource(exhibits.file(id)));
    }

    @GetMapping("/exhibits/{id:\\d+}/picture")
    ResponseEntity<Resource> picture(@PathVariable long id, @RequestParam @Nullable String size) {
        var small = "small".equals(size);
        var file = exhibits.picture(id, small);
        var exhibit = exhibits.get(id);
        return answer(exhibits.pictureMime(exhibit), exhibit.sha256() + (small ? "-small" : "-large"))
                .body(new FileSystemResource(file));
    }

    /** Whatever somebody put into a file, a browser is not to run it here. */
    private static ResponseEntity.BodyBuilder answer(String mime, String tag) {
        return ResponseEntity.ok()
                .contentType(MediaType.parseMediaType(mime))
                .header("X-Content-Type-Options", "nosniff")
                .header("Content-Security-Policy", "default-src 'none'; sandbox")
                .header("Cross-Origin-Resource-Policy", "same-origin")
                .eTag(tag)
                .cacheControl(
                        CacheControl.maxAge(Duration.ofDays(30)).cachePrivate().immutable());
    }

    @GetMapping("/exhibits/{id:\\d+}/strike")
    String striking(@PathVariable long id, Model model) {
        model.addAttribute("exhibit", exhibits.get(id));
        return "journal/exhibit";
    }

    @PostMapping("/exhibits/{id:\\d+}/strike")
    String strike(@PathVariable long id, @RequestParam @Nullable String reason, Model model) {
        var exhibit = exhibits.get(id);
        try {
            exhibits.strike(id, reason == null ? "" : reason);
            return "redirect:/tickets/" + exhibit.ticket() + "/exhibits";
        } catch (Refused no) {
            model.addAttribute("reason", reason);
            model.addAttribute("exhibit", exhibit);
            return problems.show(model, no, "journal/exhibit");
        }
    }
}
