package idlewright.intake.model;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** One visit of one vehicle. What happened to it is told by its stamps, not here. */
@Entity
public class Ticket {

    @Id
    private Integer number;

    private Long vehicleId;
    private Long customerId;
    private @Nullable String keyTag;
    private Instant openedAt;
    private String openedBy;
    private String oldParts;
    private String roadTest;
    private @Nullable Integer comebackOf;

    @Version
    private Integer version;

    protected Ticket() {}

    public Ticket(
            int number,
            Long vehicleId,
            Long customerId,
            Instant openedAt,
            String openedBy,
            @Nullable String keyTag,
            String oldParts,
            String roadTest) {
        this.number = number;
        this.vehicleId = vehicleId;
        this.customerId = customerId;
        this.openedAt = openedAt;
        this.openedBy = openedBy;
        tell(keyTag, oldParts, roadTest);
    }

    public void tell(@Nullable String keyTag, String oldParts, String roadTest) {
        this.keyTag = keyTag;
        this.oldParts = oldParts;
        this.roadTest = roadTest;
    }

    public void comesBackFrom(int earlier) {
        comebackOf = earlier;
    }

    public Long vehicleId() {
        return vehicleId;
    }

    public Integer version() {
        return version;
    }
}
