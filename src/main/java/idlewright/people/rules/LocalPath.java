package idlewright.people.rules;

import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** Where a page may send somebody on to: a path of this house, never another site. */
public final class LocalPath {

    private LocalPath() {}

    /** The path if it is one of ours: one slash in front, printable ASCII, no backslash, 500 letters at most. */
    public static Optional<String> of(@Nullable String path) {
        return Optional.ofNullable(path).filter(p -> p.length() <= 500 && p.matches("/(?!/)[\\x21-\\x5b\\x5d-\\x7e]*"));
    }
}
