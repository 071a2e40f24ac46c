package idlewright.people;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import io.github.bucket4j.Bucket;
import io.github.bucket4j.TimeMeter;
import java.time.Clock;
import java.time.Duration;
import org.springframework.stereotype.Component;

/**
 * Counts the tries to sign in by person and place: six at once and then four more in a quarter of an hour, so never more
 * than ten in any quarter of an hour. Another place has its own count: nobody can lock a colleague out.
 */
@Component
class Tries {

    private static final Duration WINDOW = Duration.ofMinutes(15);

    private final Cache<String, Bucket> buckets = Caffeine.newBuilder()
            .maximumSize(100_000)
            .expireAfterAccess(WINDOW.multipliedBy(2))
            .build();
    private final TimeMeter time;

    Tries(Clock clock) {
        time = new TimeMeter() {
            @Override
            public long currentTimeNanos() {
                return clock.millis() * 1_000_000;
            }

            @Override
            public boolean isWallClockBased() {
                return true;
            }
        };
    }

    void count(String who, String where) {
        var probe = buckets.get(key(who, where), key -> fresh()).tryConsumeAndReturnRemaining(1);
        if (!probe.isConsumed()) {
            long minutes = 1 + Duration.ofNanos(probe.getNanosToWaitForRefill()).toMinutes();
            throw new SignInRefused("Too many tries here. Wait %d %s, or ask the owner for a new one."
                    .formatted(minutes, minutes == 1 ? "minute" : "minutes"));
        }
    }

    void forgive(String who, String where) {
        buckets.invalidate(key(who, where));
    }

    private Bucket fresh() {
        return Bucket.builder()
                .addLimit(limit -> limit.capacity(6).refillGreedy(4, WINDOW))
                .withCustomTimePrecision(time)
                .build();
    }

    private static String key(String who, String where) {
        return who + "\n" + where;
    }
}
