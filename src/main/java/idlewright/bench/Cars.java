package idlewright.bench;

import idlewright.bench.rules.Trait;
import idlewright.bench.rules.VehicleFacts;
import idlewright.intake.VehicleView;
import java.util.EnumMap;
import org.jspecify.annotations.Nullable;

/** What the rules need to know of a car on file. */
final class Cars {
    private Cars() {}

    static VehicleFacts facts(VehicleView vehicle) {
        var traits = new EnumMap<Trait, Boolean>(Trait.class);
        if (!vehicle.metering().equals("UNKNOWN")) {
            traits.put(Trait.MASS_AIR_FLOW, vehicle.metersAirFlow());
            traits.put(Trait.MANIFOLD_PRESSURE, !vehicle.metersAirFlow());
        }
        traits.put(Trait.SPARK_IGNITION, !vehicle.diesel());
        traits.put(Trait.NATURALLY_ASPIRATED, !vehicle.boosted());
        return new VehicleFacts(
                vehicle.displacementL() == null ? null : vehicle.displacementL().doubleValue(),
                vehicle.cylinders(),
                banks(vehicle),
                traits);
    }

    /** Up to five cylinders mostly stand in one row with one set of trims; above, only the car itself can say. */
    static @Nullable Integer banks(VehicleView vehicle) {
        return vehicle.cylinders() != null && vehicle.cylinders() <= 5 ? 1 : null;
    }
}
