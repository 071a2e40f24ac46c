package idlewright.reference.trim;

import java.util.Locale;

/** A cause that a trim pattern points to; ranked elsewhere, declared by nobody but the technician. */
public enum Suspect {
    AIR_LEAK("air leak behind the sensor"),
    CRANKCASE_VENTILATION_LEAKING("crankcase ventilation leaking"),
    AIR_FLOW_SENSOR_UNDER_READS("air-flow sensor dirty or aged, under-reads"),
    AIR_FLOW_SENSOR_OVER_READS("air-flow sensor over-reads"),
    MANIFOLD_PRESSURE_SENSOR_BIASED("manifold-pressure sensor biased"),
    FUEL_PRESSURE_LOW("low fuel pressure or volume"),
    FUEL_PRESSURE_HIGH("fuel pressure high, regulator"),
    INJECTOR_RESTRICTED("injector restricted"),
    INJECTOR_LEAKING("injector leaking"),
    WRONG_FUEL("stale or wrong fuel"),
    PURGE_STUCK_OPEN("purge valve stuck open"),
    OXYGEN_SENSOR_BIASED("upstream oxygen sensor lazy or biased"),
    OXYGEN_SENSORS_CROSSED("oxygen sensor plugs crossed between the banks"),
    EXHAUST_LEAK_AHEAD_OF_SENSOR("exhaust leak ahead of the oxygen sensor"),
    COOLANT_SENSOR_BIASED_COLD("coolant temperature sensor biased cold"),
    VALVE_TIMING_SLIPPED("valve timing slipped on one bank"),
    ADAPTATION_NOT_RELEARNED("adaptation not relearned");

    private final String words;

    Suspect(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    /** The name as a key in a catalogue, such as {@code air-leak}. */
    public String key() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
