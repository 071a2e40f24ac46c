package idlewright.intake.model;

import jakarta.persistence.Embeddable;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.Version;
import java.io.Serializable;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** One complaint of one visit, in the customer's own words. */
@Entity
public class Symptom {

    @Embeddable
    public record Id(int ticketNumber, int place) implements Serializable {}

    @EmbeddedId
    private Id id;

    private String kind;
    private String words;
    private Instant heardAt;
    private String heardBy;
    private @Nullable Integer returnsPlace;

    @Version
    private int version;

    protected Symptom() {}

    public Symptom(int ticket, int place, String kind, String words, Instant heardAt, String heardBy) {
        this.id = new Id(ticket, place);
        this.kind = kind;
        this.words = words;
        this.heardAt = heardAt;
        this.heardBy = heardBy;
    }

    public void returns(int earlierPlace) {
        returnsPlace = earlierPlace;
    }

    public void amend(String kind, String words) {
        this.kind = kind;
        this.words = words;
    }

    public String kind() {
        return kind;
    }

    public String words() {
        return words;
    }

    public Instant heardAt() {
        return heardAt;
    }

    public String heardBy() {
        return heardBy;
    }

    public int version() {
        return version;
    }
}
