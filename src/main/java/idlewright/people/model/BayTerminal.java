package idlewright.people.model;

import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Table;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** A browser in the bay that may offer the change by PIN. */
@Entity
@Table(name = "terminal")
public class BayTerminal {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    private String name;
    private byte[] tokenHash;
    private Instant enrolledAt;
    private long enrolledBy;

    @Nullable
    private Instant retiredAt;

    @Nullable
    private Long retiredBy;

    protected BayTerminal() {}

    public BayTerminal(String name, byte[] tokenHash, Instant at, long by) {
        this.name = name;
        this.tokenHash = tokenHash;
        this.enrolledAt = at;
        this.enrolledBy = by;
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
}
