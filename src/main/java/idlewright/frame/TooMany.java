package idlewright.frame;

import java.time.Duration;
import java.util.Objects;

/** Somebody asks too often; in a while they may again. */
public class TooMany extends RuntimeException {

    private final long seconds;

    TooMany(Duration wait) {
        super(
                "Too many tries from here. Please wait %s, then try again.".formatted(words(seconds(wait))),
                null,
                false,
                false);
        this.seconds = seconds(wait);
    }

    /** What to say to whoever asks. */
    public String sentence() {
        return Objects.requireNonNull(getMessage());
    }

    /** After how many seconds another try is let in; at least 1. */
    public long seconds() {
        return seconds;
    }

    private static long seconds(Duration wait) {
        return Math.max(1, wait.plusMillis(999).toSeconds());
    }

    private static String words(long seconds) {
        long minutes = (seconds + 59) / 60;
        return minutes <= 1 ? "a minute" : minutes + " minutes";
    }
}
