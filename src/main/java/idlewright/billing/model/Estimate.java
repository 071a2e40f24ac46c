package idlewright.billing.model;

import idlewright.billing.rules.Line;
import jakarta.persistence.CascadeType;
import jakarta.persistence.Entity;
import jakarta.persistence.FetchType;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.JoinColumn;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OrderBy;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** What the shop thinks the work will cost; a change of mind is a new issue, never an edit. */
@Entity
public class Estimate {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    private int ticketNumber;
    private int issue;
    private Instant madeAt;
    private String madeBy;
    private @Nullable Instant offeredAt;
    private @Nullable String offeredBy;
    private @Nullable String offeredHow;
    private @Nullable String note;

    @OneToMany(cascade = CascadeType.ALL, fetch = FetchType.LAZY)
    @JoinColumn(name = "estimate_id", nullable = false, updatable = false)
    @OrderBy("nr")
    private List<EstimateLine> lines = new ArrayList<>();

    @Version
    private int version;

    protected Estimate() {}

    public Estimate(
            int ticketNumber, int issue, Instant madeAt, String madeBy, @Nullable String note, List<Line> written) {
        this.ticketNumber = ticketNumber;
        this.issue = issue;
        this.madeAt = madeAt;
        this.madeBy = madeBy;
        this.note = note;
        for (Line line : written) {
            lines.add(new EstimateLine(lines.size() + 1, line));
        }
    }

    /** Puts it to the customer. */
    public void offer(Instant at, String by, String how) {
        if (offeredAt == null) {
            offeredAt = at;
            offeredBy = by;
            offeredHow = how;
        }
    }

    public boolean offered() {
        return offeredAt != null;
    }

    public Long id() {
        return id;
    }

    public int ticketNumber() {
        return ticketNumber;
    }

    public int issue() {
        return issue;
    }
}
