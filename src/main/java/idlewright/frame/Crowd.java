package idlewright.frame;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import io.github.bucket4j.Bucket;
import java.time.Duration;
import org.springframework.stereotype.Component;

/** Lets one address at what lies behind a secret only so often: guessing a secret is hopeless anyway, and this keeps it quiet. */
@Component
public class Crowd {

    private static final int AT_ONCE = 30;
    private static final Duration WINDOW = Duration.ofMinutes(10);

    private final Cache<String, Bucket> buckets =
            Caffeine.newBuilder().expireAfterAccess(WINDOW).maximumSize(10_000).build();

    public void letIn(String address) {
        Bucket bucket = buckets.get(
                address,
                key -> Bucket.builder()
                        .addLimit(limit -> limit.capacity(AT_ONCE).refillGreedy(AT_ONCE, WINDOW))
                        .build());
        var probe = bucket.tryConsumeAndReturnRemaining(1);
        if (!probe.isConsumed()) {
            throw new TooMany(Duration.ofNanos(probe.getNanosToWaitForRefill()));
        }
    }
}
