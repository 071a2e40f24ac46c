package idlewright.warranty.screens;

import com.fasterxml.jackson.annotation.JsonInclude;
import idlewright.frame.Refused;
import idlewright.people.ByKey;
import idlewright.warranty.DossierView;
import idlewright.warranty.Dossiers;
import idlewright.warranty.rules.Checked;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.core.io.FileSystemResource;
import org.springframework.core.io.Resource;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** Sealed dossiers for programs: what there is, its files, and whether a ZIP is whole. */
@RestController
@ByKey
class DossierApi {

    private static final int PAGE = 100;

    private final Dossiers dossiers;

    DossierApi(Dossiers dossiers) {
        this.dossiers = dossiers;
    }

    /** The newest first; before is the code to go on with, null at the end. */
    @JsonInclude
    record DossierPage(
            List<SealedDossier> dossiers, @Nullable String before) {}

    /** The sums and sizes are those of the ZIP and the PDF. */
    @JsonInclude
    record SealedDossier(
            String code,
            int ticket,
            int symptom,
            String vehicle,
            String complaint,
            int version,
            Instant sealedAt,
            String sealedBy,
            @Nullable String supersedes,
            @Nullable String supersededBy,
            boolean namesCustomer,
            boolean holdsOriginals,
            String sha256,
            long size,
            String pdfSha256,
            long pdfSize,
            String journalHead,
            String keyFingerprint) {

        static SealedDossier of(DossierView view) {
            return new SealedDossier(
                    view.code(),
                    view.ticket().value(),
                    view.place(),
                    view.vehicle(),
                    view.complaint(),
                    view.version(),
                    view.sealedAt(),
                    view.sealedBy(),
                    view.replaces(),
                    view.replacedBy(),
                    view.named(),
                    view.originals(),
                    view.zipSha256(),
                    view.zipSize(),
                    view.pdfSha256(),
                    view.pdfSize(),
                    view.journalHead(),
                    view.fingerprint());
        }
    }

    /** What a look at a ZIP found; firstBad names the first file that is not as it was sealed. */
    @JsonInclude
    record DossierCheck(
            boolean whole,
            boolean signed,
            @Nullable String keyFingerprint,
            @Nullable String firstBad,
            String sentence,
            List<CheckedFile> files) {}

    record CheckedFile(String name, String standing) {}

    @GetMapping("/api/dossiers")
    DossierPage list(@RequestParam(required = false) @Nullable String before) {
        List<DossierView> found =
                dossiers.latest(before == null ? null : dossiers.get(before).code(), PAGE + 1);
        return new DossierPage(
                found.stream().limit(PAGE).map(SealedDossier::of).toList(),
                found.size() > PAGE ? found.get(PAGE - 1).code() : null);
    }

    @GetMapping("/api/dossiers/{code}")
    SealedDossier one(@PathVariable String code) {
        return SealedDossier.of(dossiers.get(code));
    }

    @GetMapping("/api/dossiers/{code}.zip")
    ResponseEntity<Resource> zip(@PathVariable String code) {
        DossierView dossier = dossiers.get(code);
        return file(
                dossiers.zip(code),
                dossier.zipSha256(),
                MediaType.parseMediaType("application/zip"),
                dossier.code() + ".zip");
    }

    @GetMapping("/api/dossiers/{code}.pdf")
    ResponseEntity<Resource> pdf(@PathVariable String code) {
        DossierView dossier = dossiers.get(code);
        return file(dossiers.pdf(code), dossier.pdfSha256(), MediaType.APPLICATION_PDF, dossier.code() + ".pdf");
    }

    @PostMapping("/api/verify")
    DossierCheck check(@RequestParam(required = false) @Nullable MultipartFile file) throws IOException {
        if (file == null || file.isEmpty()) {
            throw Refused.at("file", "Send the ZIP as the part “file” of a multipart form.");
        }
        try (var bytes = file.getInputStream()) {
            Checked checked = dossiers.check(bytes);
            return new DossierCheck(
                    checked.whole(),
                    checked.signed(),
                    checked.fingerprint(),
                    checked.firstBad(),
                    checked.sentence(),
                    checked.files().stream()
                            .map(look ->
                                    new CheckedFile(look.name(), look.kind().words()))
                            .toList());
        }
    }

    private static ResponseEntity<Resource> file(Path file, String sha256, MediaType type, String name) {
        return ResponseEntity.ok()
                .contentType(type)
                .header("X-Content-Type-Options", "nosniff")
                .header(
                        HttpHeaders.CONTENT_DISPOSITION,
                        ContentDisposition.attachment().filename(name).build().toString())
                .eTag(sha256)
                .body(new FileSystemResource(file));
    }
}
