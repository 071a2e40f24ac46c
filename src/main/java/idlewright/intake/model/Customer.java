package idlewright.intake.model;

import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** Who brings the car and pays. The only place, with the vehicle, where personal data live. */
@Entity
public class Customer {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    private String name;
    private @Nullable String phone;
    private @Nullable String email;
    private @Nullable String address;
    private String contactBy;
    private @Nullable String note;
    private @Nullable Instant anonymousAt;
    private Instant madeAt;
    private @Nullable String exemptNumber;
    private @Nullable String exemptReason;
    private @Nullable LocalDate exemptSince;

    @Version
    private int version;

    protected Customer() {}

    public Customer(Instant now) {
        madeAt = now;
    }

    public void tell(
            String name,
            @Nullable String phone,
            @Nullable String email,
            @Nullable String address,
            String contactBy,
            @Nullable String note) {
        this.name = name;
        this.phone = phone;
        this.email = email;
        this.address = address;
        this.contactBy = contactBy;
        this.note = note;
    }

    /** With tax when all are null; or none, by that number and for that reason. */
    public void payTax(@Nullable String exemptNumber, @Nullable String exemptReason, @Nullable LocalDate exemptSince) {
        this.exemptNumber = exemptNumber;
        this.exemptReason = exemptReason;
        this.exemptSince = exemptSince;
    }

    /** Takes away what tells who it was; the visits, readings and invoices stay. */
    public void forget(Instant now) {
        tell("Customer " + id, null, null, null, "NONE", null);
        payTax(null, null, null);
        anonymousAt = now;
    }

    public Long id() {
        return id;
    }

    public int version() {
        return version;
    }
}
