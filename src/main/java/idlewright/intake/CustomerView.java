package idlewright.intake;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** A customer as the other rooms see them. */
public record CustomerView(
        long id,
        String name,
        @Nullable String phone,
        @Nullable String email,
        @Nullable String address,
        String contactBy,
        @Nullable String note,
        boolean anonymous,
        @Nullable TaxFree taxFree,
        int version) {

    /** Why this customer pays no tax. */
    public record TaxFree(String number, String reason, LocalDate since) {}

    public String contactWords() {
        return switch (contactBy) {
            case "TEXT" -> "by text message";
            case "EMAIL" -> "by e-mail";
            case "NONE" -> "not to be contacted";
            default -> "by phone";
        };
    }
}
