package idlewright.warranty;

import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * Sealed evidence of one thread.
 *
 * @param named whether it names the customer
 * @param originals whether the photos and files travel as they were taken
 * @param replacedBy code of the newer one, null for the newest
 * @param fingerprint of the key it is sealed with
 */
public record DossierView(
        String code,
        TicketNumber ticket,
        int place,
        int version,
        @Nullable String replaces,
        @Nullable String replacedBy,
        Instant sealedAt,
        String sealedBy,
        boolean named,
        boolean originals,
        String vehicle,
        String complaint,
        String pdfSha256,
        long pdfSize,
        String zipSha256,
        long zipSize,
        String journalHead,
        String fingerprint) {

    public SymptomRef thread() {
        return new SymptomRef(ticket, place);
    }

    /** "412 kB". */
    public static String size(long bytes) {
        return bytes < 1_000_000 ? Math.max(1, Math.round(bytes / 1000.0)) + " kB" : "%.1f MB".formatted(bytes / 1e6);
    }

    public String zipSizeWords() {
        return size(zipSize);
    }

    public String pdfSizeWords() {
        return size(pdfSize);
    }
}
