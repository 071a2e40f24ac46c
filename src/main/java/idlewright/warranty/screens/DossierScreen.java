package idlewright.warranty.screens;

import idlewright.billing.Authorisations;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.journal.Exhibits;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.repair.Swaps;
import idlewright.warranty.Claims;
import idlewright.warranty.DossierView;
import idlewright.warranty.Dossiers;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Sealing the evidence of a thread, and what was sealed. */
@Controller
@For({Role.WRITER, Role.OWNER})
class DossierScreen {

    private static final int PAGE = 50;
    private static final String CODE = "{code:[Dd]-\\d+-\\d+-[Vv]\\d+}";
    private static final Map<String, String> NAMED = new LinkedHashMap<>();
    private static final Map<String, String> FILES = new LinkedHashMap<>();

    static {
        NAMED.put("no", "a supplier or maker: without the customer's name, phone, address and plate");
        NAMED.put("yes", "the customer, an insurer or a court: whole, with the customer's name, address and phone");
        FILES.put("shown", "photos as they are shown: smaller, and without where they were taken");
        FILES.put("originals", "the same, and the originals of photos, logs and documents");
    }

    /** What the receiver needs. */
    record Form(@Nullable String named, @Nullable String files) {

        boolean withName() {
            return "yes".equals(named);
        }

        boolean withOriginals() {
            return "originals".equals(files);
        }
    }

    private final Dossiers dossiers;
    private final Claims claims;
    private final Tickets tickets;
    private final Exhibits exhibits;
    private final Authorisations authorisations;
    private final Swaps swaps;
    private final Problems problems;

    DossierScreen(
            Dossiers dossiers,
            Claims claims,
            Tickets tickets,
            Exhibits exhibits,
            Authorisations authorisations,
            Swaps swaps,
            Problems problems) {
        this.dossiers = dossiers;
        this.claims = claims;
        this.tickets = tickets;
        this.exhibits = exhibits;
        this.authorisations = authorisations;
        this.swaps = swaps;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/dossiers/new")
    String sealing(@PathVariable int number, @PathVariable int place, Model model) {
        model.addAttribute("form", new Form("no", "shown"));
        return form(thread(number, place), model);
    }

    @PostMapping("/tickets/{number:\\d+}/symptoms/{place:\\d+}/dossiers/new")
    String seal(@PathVariable int number, @PathVariable int place, @ModelAttribute("form") Form form, Model model) {
        SymptomRef thread = thread(number, place);
        try {
            return "redirect:/dossiers/"
                    + dossiers.seal(thread, form.withName(), form.withOriginals())
                            .code();
        } catch (Refused no) {
            return problems.show(model, no, form(thread, model));
        }
    }

    @GetMapping("/dossiers")
    String list(@RequestParam(required = false) @Nullable String before, Model model) {
        List<DossierView> found = dossiers.latest(before, PAGE + 1);
        model.addAttribute("dossiers", found.stream().limit(PAGE).toList());
        model.addAttribute("more", found.size() > PAGE ? found.get(PAGE - 1).code() : null);
        return "warranty/dossier-list";
    }

    @GetMapping("/dossiers/" + CODE)
    String dossier(@PathVariable String code, Model model) {
        DossierView dossier = dossiers.get(code);
        model.addAttribute("dossier", dossier);
        model.addAttribute("choice", dossiers.choice(dossier.code()).orElse(null));
        model.addAttribute(
                "claims",
                claims.of(dossier.ticket()).stream()
                        .filter(claim -> dossier.code().equals(claim.dossier()))
                        .toList());
        model.addAttribute(
                "parts",
                swaps.of(dossier.ticket()).stream()
                        .filter(swap -> swap.thread().place() == dossier.place() && !swap.takenBack())
                        .toList());
        return "warranty/dossier";
    }

    @GetMapping("/dossiers/" + CODE + ".pdf")
    ResponseEntity<Resource> pdf(@PathVariable String code) {
        DossierView dossier = dossiers.get(code);
        return file(dossiers.pdf(code), dossier.pdfSha256(), MediaType.APPLICATION_PDF, true, dossier.code() + ".pdf");
    }

    @GetMapping("/dossiers/" + CODE + ".zip")
    ResponseEntity<Resource> zip(@PathVariable String code) {
        DossierView dossier = dossiers.get(code);
        return file(
                dossiers.zip(code),
                dossier.zipSha256(),
                MediaType.parseMediaType("application/zip"),
                false,
                dossier.code() + ".zip");
    }

    private static ResponseEntity<Resource> file(Path file, String tag, MediaType type, boolean shown, String name) {
        var disposition = shown ? ContentDisposition.inline() : ContentDisposition.attachment();
        return ResponseEntity.ok()
                .contentType(type)
                .header("X-Content-Type-Options", "nosniff")
                .header(
                        HttpHeaders.CONTENT_DISPOSITION,
                        disposition.filename(name).build().toString())
                .eTag(tag)
                .cacheControl(CacheControl.noCache().cachePrivate())
                .body(new FileSystemResource(file));
    }

    private String form(SymptomRef thread, Model model) {
        var ticket = tickets.get(thread.ticket());
        model.addAttribute("ticket", ticket);
        model.addAttribute("symptom", ticket.symptom(thread.place()));
        model.addAttribute("newest", dossiers.newest(thread).orElse(null));
        model.addAttribute(
                "photos",
                exhibits.of(thread.ticket().value()).stream()
                        .filter(one -> one.place() == null || one.place() == thread.place())
                        .count());
        model.addAttribute("agreements", authorisations.of(thread.ticket()).size());
        model.addAttribute("named", NAMED);
        model.addAttribute("files", FILES);
        return "warranty/dossier-form";
    }

    private static SymptomRef thread(int number, int place) {
        return new SymptomRef(new TicketNumber(number), place);
    }
}
