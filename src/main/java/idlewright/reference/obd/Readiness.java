package idlewright.reference.obd;

import java.util.ArrayList;
import java.util.List;

/**
 * Lamp, number of stored codes and the monitors, from PID 01 (since the codes were cleared) or 41 (this drive cycle).
 *
 * <p>Source: SAE J1979 bit tables as public PID tables give them; bit 4 from memory.
 *
 * @param lamp whether the warning lamp is commanded on
 * @param codeCount stored emission codes, 0 to 127
 * @param monitors all that the kind of ignition knows, supported or not; empty when only the first byte came
 */
public record Readiness(boolean lamp, int codeCount, Ignition ignition, List<Monitor> monitors) {

    private static final List<String> CONTINUOUS = List.of("misfire", "fuel system", "comprehensive components");

    /** By bit; an empty name is a bit the standard keeps back. */
    private static final List<String> SPARK = List.of(
            "catalyst",
            "heated catalyst",
            "fuel vapour system",
            "secondary air",
            "gasoline particulate filter",
            "oxygen sensor",
            "oxygen sensor heater",
            "exhaust gas recirculation or valve timing");

    private static final List<String> COMPRESSION = List.of(
            "NMHC catalyst",
            "NOx aftertreatment",
            "",
            "boost pressure",
            "",
            "exhaust gas sensor",
            "particulate filter",
            "exhaust gas recirculation or valve timing");

    /** How the mixture is lit, which decides what the monitor bits mean. */
    public enum Ignition {
        SPARK,
        COMPRESSION,
        NOT_KNOWN
    }

    /** One self-test of the vehicle; complete is only meaningful when supported. */
    public record Monitor(String name, boolean supported, boolean complete) {}

    public Readiness {
        monitors = List.copyOf(monitors);
    }

    /** From the data bytes of the answer; from one byte alone only the lamp and the count are known. */
    static Readiness of(int[] data) {
        boolean lamp = (data[0] & 0x80) != 0;
        int count = data[0] & 0x7F;
        if (data.length < 4) {
            return new Readiness(lamp, count, Ignition.NOT_KNOWN, List.of());
        }
        boolean spark = (data[1] & 0x08) == 0;
        List<Monitor> monitors = new ArrayList<>();
        for (int bit = 0; bit < CONTINUOUS.size(); bit++) {
            monitors.add(new Monitor(CONTINUOUS.get(bit), set(data[1], bit), !set(data[1], bit + 4)));
        }
        List<String> names = spark ? SPARK : COMPRESSION;
        for (int bit = 0; bit < names.size(); bit++) {
            if (!names.get(bit).isEmpty()) {
                monitors.add(new Monitor(names.get(bit), set(data[2], bit), !set(data[3], bit)));
            }
        }
        return new Readiness(lamp, count, spark ? Ignition.SPARK : Ignition.COMPRESSION, monitors);
    }

    private static boolean set(int bits, int bit) {
        return (bits >> bit & 1) != 0;
    }

    /** Names of the monitors that the vehicle has and that have run to their end. */
    public List<String> ready() {
        return names(true);
    }

    /** Names of the monitors that the vehicle has and that still have to run. */
    public List<String> notReady() {
        return names(false);
    }

    private List<String> names(boolean complete) {
        return monitors.stream()
                .filter(monitor -> monitor.supported() && monitor.complete() == complete)
                .map(Monitor::name)
                .toList();
    }

    /**
     * Whether few enough monitors are open for an inspection: at most two for model years 1996 to 2000, one from 2001.
     *
     * <p>From memory of 66 FR 18155 (5 April 2001); state rules differ.
     */
    public boolean readyForInspection(int modelYear) {
        return !monitors.isEmpty() && notReady().size() <= (modelYear <= 2000 ? 2 : 1);
    }
}
