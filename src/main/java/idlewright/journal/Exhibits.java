package idlewright.journal;

import java.io.InputStream;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Keeps files as evidence: byte for byte, known by their hash, never deleted. */
@Component
public class Exhibits {

    /** Keeps a file for a ticket; refuses what is too large, of an unwanted kind or not to be stored. */
    public Exhibit keep(
            InputStream bytes, String fileName, int ticket, @Nullable Integer place, String what, String caption) {
        throw new UnsupportedOperationException("not yet built");
    }

    public List<Exhibit> of(int ticket) {
        throw new UnsupportedOperationException("not yet built");
    }

    public Exhibit get(long id) {
        throw new UnsupportedOperationException("not yet built");
    }

    /** The original bytes; the caller closes the stream. */
    public InputStream open(long id) {
        throw new UnsupportedOperationException("not yet built");
    }
}
