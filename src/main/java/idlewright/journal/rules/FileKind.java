package idlewright.journal.rules;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The kinds of file that are kept, told by their content; the name only tells two harmless kinds of text apart. */
public enum FileKind {
    JPEG("image/jpeg", "jpg", "jpeg", "jpe"),
    PNG("image/png", "png"),
    WEBP("image/webp", "webp"),
    PDF("application/pdf", "pdf"),
    CSV("text/csv", "csv"),
    TEXT("text/plain", "txt", "log", "text");

    private final String mime;
    private final List<String> endings;

    FileKind(String mime, String... endings) {
        this.mime = mime;
        this.endings = List.of(endings);
    }

    /** The kind of a content, or nothing when such content is not kept. */
    public static Optional<FileKind> of(String contentMime, String fileName) {
        return switch (contentMime) {
            case "image/jpeg" -> Optional.of(JPEG);
            case "image/png" -> Optional.of(PNG);
            case "image/webp" -> Optional.of(WEBP);
            case "application/pdf" -> Optional.of(PDF);
            case "text/plain", "text/csv" -> Optional.of(CSV.fits(fileName) ? CSV : TEXT);
            default -> Optional.empty();
        };
    }

    public static Optional<FileKind> of(String mime) {
        return List.of(values()).stream().filter(kind -> kind.mime.equals(mime)).findFirst();
    }

    public String mime() {
        return mime;
    }

    public boolean picture() {
        return this == JPEG || this == PNG || this == WEBP;
    }

    /** The kind in which it is shown: not everybody who gets a dossier can open the newer ones. */
    public FileKind shown() {
        return this == WEBP ? JPEG : this;
    }

    /** The usual ending of its file names. */
    public String ending() {
        return endings.get(0);
    }

    boolean fits(String fileName) {
        var lower = fileName.toLowerCase(Locale.ROOT);
        return endings.stream().anyMatch(ending -> lower.endsWith("." + ending));
    }
}
