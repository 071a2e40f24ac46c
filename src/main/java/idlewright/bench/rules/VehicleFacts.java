package idlewright.bench.rules;

import java.util.Collection;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What the rules need to know of a vehicle; anything may be unknown.
 *
 * @param displacementLitres swept volume in litres
 * @param traits true or false where known; a trait that is absent is unknown and excludes nothing
 */
public record VehicleFacts(
        @Nullable Double displacementLitres,
        @Nullable Integer cylinders,
        @Nullable Integer banks,
        Map<Trait, Boolean> traits) {

    public VehicleFacts {
        traits = Map.copyOf(traits);
    }

    public static VehicleFacts unknown() {
        return new VehicleFacts(null, null, null, Map.of());
    }

    /** Only what is known to be otherwise excludes. */
    boolean mayHave(Collection<Trait> wanted) {
        return wanted.stream().allMatch(trait -> traits.getOrDefault(trait, true));
    }
}
