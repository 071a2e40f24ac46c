package idlewright.reference.trim;

import idlewright.reference.verdict.Judged;
import java.util.List;

/** The trims judged, and the patterns seen in them (none when all is normal). */
public record TrimReading(Judged judged, List<TrimPattern> patterns) {

    public TrimReading {
        patterns = List.copyOf(patterns);
    }
}
