package idlewright.bench.model;

import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.math.BigDecimal;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** A procedure done once: by whom, with what, under which conditions. */
@Entity
public class Measurement {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    private int ticketNumber;
    private String procedureKey;
    private int procedureVersion;
    private boolean afterRepair;
    private Long technicianId;
    private String technician;
    private @Nullable Long instrumentId;

    @Enumerated(EnumType.STRING)
    private KeyState state;

    private @Nullable BigDecimal rpm;

    @Column(name = "coolant_c")
    private @Nullable BigDecimal coolantC;

    @Column(name = "intake_c")
    private @Nullable BigDecimal intakeC;

    private @Nullable String gear;

    @Enumerated(EnumType.STRING)
    private @Nullable Motion motion;

    private @Nullable String load;
    private @Nullable BigDecimal barometerKpa;
    private @Nullable String probes;
    private Instant startedAt;
    private @Nullable Instant finishedAt;
    private @Nullable String finishedBy;

    @Version
    private int version;

    protected Measurement() {}

    public Measurement(
            int ticketNumber,
            String procedureKey,
            int procedureVersion,
            boolean afterRepair,
            @Nullable Long instrumentId) {
        this.ticketNumber = ticketNumber;
        this.procedureKey = procedureKey;
        this.procedureVersion = procedureVersion;
        this.afterRepair = afterRepair;
        this.instrumentId = instrumentId;
    }

    /** Begins, under conditions that will not be rewritten. */
    public void start(
            Long technicianId, String technician, Instant at, Conditions conditions, @Nullable String probes) {
        this.technicianId = technicianId;
        this.technician = technician;
        this.startedAt = at;
        this.state = conditions.state();
        this.rpm = decimal(conditions.rpm());
        this.coolantC = decimal(conditions.coolantC());
        this.intakeC = decimal(conditions.intakeAirC());
        this.gear = conditions.gear();
        this.motion = conditions.motion();
        this.load = conditions.load();
        this.barometerKpa = decimal(conditions.barometerKpa());
        this.probes = probes;
    }

    /** Ends; a second time changes nothing. */
    public boolean finish(Instant at, String by) {
        if (finishedAt != null) {
            return false;
        }
        finishedAt = at;
        finishedBy = by;
        return true;
    }

    public Long id() {
        return id;
    }

    private static @Nullable BigDecimal decimal(@Nullable Double value) {
        return value == null ? null : BigDecimal.valueOf(value);
    }
}
