package idlewright.intake;

import java.math.BigDecimal;
import org.jspecify.annotations.Nullable;

/** A vehicle as the other rooms see it; displacement in litres. */
public record VehicleView(
        long id,
        long customerId,
        @Nullable String vin,
        @Nullable String plate,
        String make,
        String model,
        @Nullable Integer modelYear,
        @Nullable String engineFamily,
        @Nullable BigDecimal displacementL,
        @Nullable Integer cylinders,
        int strokes,
        String fuel,
        String aspiration,
        String metering,
        String gearbox,
        String distanceUnit,
        int version) {

    public String name() {
        return make + " " + model;
    }

    public boolean boosted() {
        return !aspiration.equals("NATURAL");
    }

    public boolean metersAirFlow() {
        return metering.equals("HOT_FILM") || metering.equals("HOT_WIRE") || metering.equals("VANE");
    }

    public boolean diesel() {
        return fuel.equals("DIESEL");
    }

    /** "2.2 L, 4 cylinders, petrol, hot film". */
    public String engineWords() {
        var words = new java.util.ArrayList<String>();
        if (displacementL != null) {
            words.add(displacementL.stripTrailingZeros().toPlainString() + " L");
        }
        if (cylinders != null) {
            words.add(cylinders + " cylinders");
        }
        words.add(
                switch (fuel) {
                    case "E10" -> "petrol E10";
                    case "LPG" -> "LPG";
                    case "CNG" -> "CNG";
                    default -> fuel.toLowerCase(java.util.Locale.ROOT);
                });
        if (boosted()) {
            words.add(aspiration.toLowerCase(java.util.Locale.ROOT));
        }
        words.add(meteringWords());
        return String.join(", ", words);
    }

    public String meteringWords() {
        return switch (metering) {
            case "HOT_FILM" -> "hot-film air-flow sensor";
            case "HOT_WIRE" -> "hot-wire air-flow sensor";
            case "VANE" -> "vane air-flow sensor";
            case "MANIFOLD_PRESSURE" -> "manifold pressure";
            default -> "air metering not noted";
        };
    }
}
