package idlewright.bench.model;

import idlewright.bench.rules.InstrumentKind;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** A meter, gauge or tool of the shop, and what it promises. */
@Entity
public class Instrument {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    private String name;

    @Enumerated(EnumType.STRING)
    private InstrumentKind kind;

    private BigDecimal percentOfReading = BigDecimal.ZERO;
    private BigDecimal digits = BigDecimal.ZERO;
    private @Nullable BigDecimal resolution;
    private @Nullable String resolutionUnit;
    private @Nullable LocalDate calibrationDue;
    private Instant madeAt;
    private @Nullable Instant retiredAt;

    @Version
    private Integer version;

    protected Instrument() {}

    public Instrument(Instant madeAt) {
        this.madeAt = madeAt;
    }

    /** What stands on its plate and in its papers. */
    public void tell(
            String name,
            InstrumentKind kind,
            BigDecimal percentOfReading,
            BigDecimal digits,
            @Nullable BigDecimal resolution,
            @Nullable String resolutionUnit,
            @Nullable LocalDate calibrationDue) {
        this.name = name;
        this.kind = kind;
        this.percentOfReading = percentOfReading;
        this.digits = digits;
        this.resolution = resolution;
        this.resolutionUnit = resolutionUnit;
        this.calibrationDue = calibrationDue;
    }

    /** It is no longer used; what was read with it stays. */
    public void retire(Instant at) {
        if (retiredAt == null) {
            retiredAt = at;
        }
    }

    public Long id() {
        return id;
    }

    public String name() {
        return name;
    }

    public InstrumentKind kind() {
        return kind;
    }

    public BigDecimal percentOfReading() {
        return percentOfReading;
    }

    public BigDecimal digits() {
        return digits;
    }

    public @Nullable BigDecimal resolution() {
        return resolution;
    }

    public @Nullable String resolutionUnit() {
        return resolutionUnit;
    }

    public @Nullable LocalDate calibrationDue() {
        return calibrationDue;
    }

    public @Nullable Instant retiredAt() {
        return retiredAt;
    }

    public Integer version() {
        return version;
    }
}
