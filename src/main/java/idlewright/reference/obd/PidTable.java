package idlewright.reference.obd;

import idlewright.reference.obd.Pid.Choice;
import idlewright.reference.obd.Pid.Field;
import idlewright.reference.obd.Pid.Figure;
import idlewright.reference.obd.Pid.Flags;
import java.math.BigDecimal;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.TreeMap;

/**
 * The parameters of service 01.
 *
 * <p>Source: the facts of public PID tables for SAE J1979 / ISO 15031-5, checked against real-car data for those that a
 * petrol engine sends all day; 12, 13, 1D, 1E, 53 to 5B and 61 to 66 from memory.
 */
final class PidTable {

    static final NavigableMap<Integer, Pid> BY_ID;

    private static final int EXACT = 15;
    private static final int OVER_255 = 6;

    private static final Map<Integer, String> FUEL_SYSTEM = Map.of(
            0x00, "none",
            0x01, "open loop, cold",
            0x02, "closed loop",
            0x04, "open loop, load or deceleration",
            0x08, "open loop, fault",
            0x10, "closed loop with a sensor fault");

    private static final Map<Integer, String> STANDARDS = Map.ofEntries(
            Map.entry(1, "OBD II, California ARB"),
            Map.entry(2, "OBD, US federal"),
            Map.entry(3, "OBD and OBD II"),
            Map.entry(4, "OBD I"),
            Map.entry(5, "no OBD"),
            Map.entry(6, "EOBD"),
            Map.entry(7, "EOBD and OBD II"),
            Map.entry(8, "EOBD and OBD"),
            Map.entry(9, "EOBD, OBD and OBD II"),
            Map.entry(10, "JOBD"),
            Map.entry(11, "JOBD and OBD II"),
            Map.entry(12, "JOBD and EOBD"),
            Map.entry(13, "JOBD, EOBD and OBD II"));

    private static final Map<Integer, String> FUELS = Map.ofEntries(
            Map.entry(0, "not available"),
            Map.entry(1, "gasoline"),
            Map.entry(2, "methanol"),
            Map.entry(3, "ethanol"),
            Map.entry(4, "diesel"),
            Map.entry(5, "LPG"),
            Map.entry(6, "CNG"),
            Map.entry(7, "propane"),
            Map.entry(8, "electric"));

    private static final Map<Integer, String> SECONDARY_AIR = Map.of(
            0x01, "upstream of the catalyst",
            0x02, "downstream of the catalyst",
            0x04, "outside air or off",
            0x08, "pump on for a test");

    private static final List<String> SENSORS_TWO_BANKS = List.of(
            "bank 1 sensor 1",
            "bank 1 sensor 2",
            "bank 1 sensor 3",
            "bank 1 sensor 4",
            "bank 2 sensor 1",
            "bank 2 sensor 2",
            "bank 2 sensor 3",
            "bank 2 sensor 4");

    private static final List<String> SENSORS_FOUR_BANKS = List.of(
            "bank 1 sensor 1",
            "bank 1 sensor 2",
            "bank 2 sensor 1",
            "bank 2 sensor 2",
            "bank 3 sensor 1",
            "bank 3 sensor 2",
            "bank 4 sensor 1",
            "bank 4 sensor 2");

    static {
        NavigableMap<Integer, Pid> table = new TreeMap<>();
        for (int base = 0; base <= 0xE0; base += 0x20) {
            put(table, base, "supported PIDs %02X to %02X".formatted(base + 1, Math.min(base + 0x20, 0xFF)), 4);
        }
        put(table, 0x01, "monitors since the codes were cleared", 4);
        put(table, 0x02, "code that froze the frame", 2);
        put(
                table,
                0x03,
                "fuel system status",
                2,
                new Choice("fuel system 1", 0, FUEL_SYSTEM),
                new Choice("fuel system 2", 1, FUEL_SYSTEM));
        percent(table, 0x04, "calculated load");
        celsius(table, 0x05, "coolant temperature");
        trim(table, 0x06, "short-term trim, bank 1");
        trim(table, 0x07, "long-term trim, bank 1");
        trim(table, 0x08, "short-term trim, bank 2");
        trim(table, 0x09, "long-term trim, bank 2");
        byteOf(table, 0x0A, "fuel pressure, gauge", "kPa", "3");
        byteOf(table, 0x0B, "manifold pressure, absolute", "kPa", "1");
        wordOf(table, 0x0C, "engine speed", "rpm", "1", "4");
        byteOf(table, 0x0D, "vehicle speed", "km/h", "1");
        put(table, 0x0E, "spark advance", 1, figure("spark advance", "deg BTDC", 0, 1, "1", "2", "-64"));
        celsius(table, 0x0F, "intake air temperature");
        wordOf(table, 0x10, "mass air flow", "g/s", "1", "100");
        percent(table, 0x11, "throttle position");
        put(table, 0x12, "secondary air", 1, new Choice("secondary air", 0, SECONDARY_AIR));
        put(table, 0x13, "oxygen sensors fitted", 1, new Flags("oxygen sensors fitted", 0, SENSORS_TWO_BANKS));
        for (int i = 0; i < 8; i++) {
            narrowOxygen(table, 0x14 + i, "oxygen sensor " + (i + 1));
        }
        put(table, 0x1C, "OBD standard", 1, new Choice("OBD standard", 0, STANDARDS));
        put(table, 0x1D, "oxygen sensors fitted", 1, new Flags("oxygen sensors fitted", 0, SENSORS_FOUR_BANKS));
        put(table, 0x1E, "auxiliary input", 1, new Flags("auxiliary input", 0, List.of("power take-off")));
        wordOf(table, 0x1F, "run time since start", "s", "1", "1");
        wordOf(table, 0x21, "distance with the lamp on", "km", "1", "1");
        wordOf(table, 0x22, "fuel rail pressure above manifold", "kPa", "0.079", "1");
        wordOf(table, 0x23, "fuel rail pressure, gauge", "kPa", "10", "1");
        for (int i = 0; i < 8; i++) {
            String sensor = "oxygen sensor " + (i + 1);
            put(
                    table,
                    0x24 + i,
                    sensor + ", wide band",
                    4,
                    figure(sensor + " lambda", "lambda", 0, 2, "2", "65536", "0"),
                    figure(sensor + " voltage", "V", 2, 2, "8", "65536", "0"));
        }
        percent(table, 0x2C, "commanded exhaust gas recirculation");
        trim(table, 0x2D, "exhaust gas recirculation error");
        percent(table, 0x2E, "commanded purge");
        percent(table, 0x2F, "fuel level");
        byteOf(table, 0x30, "warm-ups since clearing", "", "1");
        wordOf(table, 0x31, "distance since clearing", "km", "1", "1");
        put(
                table,
                0x32,
                "fuel vapour pressure",
                2,
                new Figure(
                        "fuel vapour pressure",
                        "Pa",
                        0,
                        2,
                        true,
                        BigDecimal.ONE,
                        BigDecimal.valueOf(4),
                        BigDecimal.ZERO,
                        EXACT,
                        null));
        byteOf(table, 0x33, "barometric pressure", "kPa", "1");
        for (int i = 0; i < 8; i++) {
            String sensor = "oxygen sensor " + (i + 1);
            put(
                    table,
                    0x34 + i,
                    sensor + ", wide band",
                    4,
                    figure(sensor + " lambda", "lambda", 0, 2, "2", "65536", "0"),
                    figure(sensor + " current", "mA", 2, 2, "1", "256", "-128"));
        }
        List<String> catalysts = List.of("bank 1 sensor 1", "bank 2 sensor 1", "bank 1 sensor 2", "bank 2 sensor 2");
        for (int i = 0; i < catalysts.size(); i++) {
            String name = "catalyst temperature, " + catalysts.get(i);
            put(table, 0x3C + i, name, 2, figure(name, "degC", 0, 2, "1", "10", "-40"));
        }
        put(table, 0x41, "monitors this drive cycle", 4);
        wordOf(table, 0x42, "control module voltage", "V", "1", "1000");
        put(table, 0x43, "absolute load", 2, over255("absolute load", 2));
        wordOf(table, 0x44, "commanded lambda", "lambda", "2", "65536");
        percent(table, 0x45, "relative throttle position");
        celsius(table, 0x46, "outside air temperature");
        percent(table, 0x47, "throttle position B");
        percent(table, 0x48, "throttle position C");
        percent(table, 0x49, "pedal position D");
        percent(table, 0x4A, "pedal position E");
        percent(table, 0x4B, "pedal position F");
        percent(table, 0x4C, "commanded throttle");
        wordOf(table, 0x4D, "time with the lamp on", "min", "1", "1");
        wordOf(table, 0x4E, "time since clearing", "min", "1", "1");
        put(table, 0x51, "fuel type", 1, new Choice("fuel type", 0, FUELS));
        percent(table, 0x52, "ethanol in the fuel");
        wordOf(table, 0x53, "fuel vapour pressure, absolute", "kPa", "1", "200");
        wordOf(table, 0x59, "fuel rail pressure, absolute", "kPa", "10", "1");
        percent(table, 0x5A, "relative pedal position");
        percent(table, 0x5B, "hybrid battery charge");
        celsius(table, 0x5C, "oil temperature");
        put(table, 0x5D, "injection timing", 2, figure("injection timing", "deg", 0, 2, "1", "128", "-210"));
        wordOf(table, 0x5E, "fuel rate", "L/h", "1", "20");
        put(table, 0x61, "torque asked for", 1, figure("torque asked for", "%", 0, 1, "1", "1", "-125"));
        put(table, 0x62, "torque given", 1, figure("torque given", "%", 0, 1, "1", "1", "-125"));
        wordOf(table, 0x63, "reference torque", "N m", "1", "1");
        put(
                table,
                0x66,
                "mass air flow, sensors A and B",
                5,
                new Flags("mass air flow sensors", 0, List.of("A", "B")),
                figure("mass air flow, sensor A", "g/s", 1, 2, "1", "32", "0"),
                figure("mass air flow, sensor B", "g/s", 3, 2, "1", "32", "0"));
        BY_ID = Collections.unmodifiableNavigableMap(table);
    }

    private PidTable() {}

    private static void put(Map<Integer, Pid> table, int id, String name, int length, Field... fields) {
        table.put(id, new Pid(id, name, length, List.of(fields)));
    }

    private static void percent(Map<Integer, Pid> table, int id, String name) {
        put(table, id, name, 1, over255(name, 1));
    }

    private static void celsius(Map<Integer, Pid> table, int id, String name) {
        put(table, id, name, 1, figure(name, "degC", 0, 1, "1", "1", "-40"));
    }

    private static void trim(Map<Integer, Pid> table, int id, String name) {
        put(table, id, name, 1, figure(name, "%", 0, 1, "100", "128", "-100"));
    }

    private static void byteOf(Map<Integer, Pid> table, int id, String name, String unit, String factor) {
        put(table, id, name, 1, figure(name, unit, 0, 1, factor, "1", "0"));
    }

    private static void wordOf(
            Map<Integer, Pid> table, int id, String name, String unit, String numerator, String denominator) {
        put(table, id, name, 2, figure(name, unit, 0, 2, numerator, denominator, "0"));
    }

    private static void narrowOxygen(Map<Integer, Pid> table, int id, String sensor) {
        Figure volts = figure(sensor + " voltage", "V", 0, 1, "1", "200", "0");
        Figure trim = new Figure(
                sensor + " short-term trim",
                "%",
                1,
                1,
                false,
                BigDecimal.valueOf(100),
                BigDecimal.valueOf(128),
                BigDecimal.valueOf(-100),
                EXACT,
                0xFF);
        put(table, id, sensor + ", narrow band", 2, volts, trim);
    }

    private static Figure over255(String name, int bytes) {
        return new Figure(
                name,
                "%",
                0,
                bytes,
                false,
                BigDecimal.valueOf(100),
                BigDecimal.valueOf(255),
                BigDecimal.ZERO,
                OVER_255,
                null);
    }

    private static Figure figure(
            String name, String unit, int at, int bytes, String numerator, String denominator, String offset) {
        return new Figure(
                name,
                unit,
                at,
                bytes,
                false,
                new BigDecimal(numerator),
                new BigDecimal(denominator),
                new BigDecimal(offset),
                EXACT,
                null);
    }
}
