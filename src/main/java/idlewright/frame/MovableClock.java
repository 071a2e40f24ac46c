package idlewright.frame;

import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/** Tells the time; the demo maker and the tests may hold it at a moment for the current thread of execution. */
public class MovableClock extends Clock {

    private final Clock wall;
    private final ThreadLocal<@Nullable Instant> held = new ThreadLocal<>();
    private volatile @Nullable Instant heldForAll;

    public MovableClock(Clock wall) {
        this.wall = wall;
    }

    /** Does the work as if it were that moment, on this thread only. */
    public <T> T at(Instant moment, Supplier<T> work) {
        Instant before = held.get();
        held.set(moment);
        try {
            return work.get();
        } finally {
            if (before == null) {
                held.remove();
            } else {
                held.set(before);
            }
        }
    }

    /** Holds every thread at that moment, until released with null: for tests of days passing. */
    public void hold(@Nullable Instant moment) {
        heldForAll = moment;
    }

    @Override
    public Instant instant() {
        Instant mine = held.get();
        if (mine != null) {
            return mine;
        }
        Instant all = heldForAll;
        return all != null ? all : wall.instant();
    }

    @Override
    public ZoneId getZone() {
        return ZoneOffset.UTC;
    }

    @Override
    public Clock withZone(ZoneId zone) {
        return Clock.fixed(instant(), zone);
    }
}
