package idlewright.intake.model;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.math.BigDecimal;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** The car, as its plates and papers tell it. */
@Entity
public class Vehicle {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    private Long customerId;
    private @Nullable String vin;
    private @Nullable String plate;
    private String make;
    private String model;
    private @Nullable Integer modelYear;
    private @Nullable String engineFamily;

    @Column(name = "displacement_l")
    private @Nullable BigDecimal displacementL;

    private @Nullable Integer cylinders;
    private int strokes = 4;
    private String fuel;
    private String aspiration;
    private String metering;
    private String gearbox;
    private String distanceUnit;
    private Instant madeAt;

    @Version
    private int version;

    protected Vehicle() {}

    public Vehicle(Long customerId, Instant now) {
        this.customerId = customerId;
        this.madeAt = now;
    }

    public void tell(
            @Nullable String vin, @Nullable String plate, String make, String model, @Nullable Integer modelYear) {
        this.vin = vin;
        this.plate = plate;
        this.make = make;
        this.model = model;
        this.modelYear = modelYear;
    }

    public void tellEngine(
            @Nullable String engineFamily,
            @Nullable BigDecimal displacementL,
            @Nullable Integer cylinders,
            String fuel,
            String aspiration,
            String metering,
            String gearbox,
            String distanceUnit) {
        this.engineFamily = engineFamily;
        this.displacementL = displacementL;
        this.cylinders = cylinders;
        this.fuel = fuel;
        this.aspiration = aspiration;
        this.metering = metering;
        this.gearbox = gearbox;
        this.distanceUnit = distanceUnit;
    }

    public void changeHands(Long newCustomerId) {
        customerId = newCustomerId;
    }

    public Long id() {
        return id;
    }

    public Long customerId() {
        return customerId;
    }

    public String distanceUnit() {
        return distanceUnit;
    }

    public int version() {
        return version;
    }
}
