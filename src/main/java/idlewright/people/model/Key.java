package idlewright.people.model;

import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** A program's key; it works in the name of the person who made it. */
@Entity
@Table(name = "api_key")
public class Key {

    private static final Duration NOTED_EVERY = Duration.ofHours(1);

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    private String name;
    private byte[] keyHash;
    private String tail;
    private Instant madeAt;
    private long madeBy;

    @Nullable
    private Instant usedAt;

    @Nullable
    private Instant retiredAt;

    @Nullable
    private Long retiredBy;

    protected Key() {}

    public Key(String name, byte[] keyHash, String tail, Instant at, long by) {
        this.name = name;
        this.keyHash = keyHash;
        this.tail = tail;
        this.madeAt = at;
        this.madeBy = by;
    }

    /** Notes the use, at most once an hour: a busy program must not cost a write for every question. */
    public void used(Instant at) {
        if (usedAt == null || usedAt.plus(NOTED_EVERY).isBefore(at)) {
            usedAt = at;
        }
    }

    public void retire(Instant at, long by) {
        if (retiredAt == null) {
            retiredAt = at;
            retiredBy = by;
        }
    }

    public boolean retired() {
        return retiredAt != null;
    }

    public Long id() {
        return id;
    }

    public String name() {
        return name;
    }

    public long madeBy() {
        return madeBy;
    }
}
