package idlewright.reference.obd;

import java.math.BigDecimal;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/** Units and scaling of service 06 test results, by their number; 81 and up are signed. SAE J1979 facts, from memory. */
final class Scaling {

    private record Scale(BigDecimal factor, BigDecimal offset, String unit) {}

    private static final Map<Integer, Scale> BY_ID = new HashMap<>();

    static {
        put(0x01, "1", "");
        put(0x02, "0.1", "");
        put(0x03, "0.01", "");
        put(0x04, "0.001", "");
        put(0x05, "0.0000305", "");
        put(0x06, "0.000305", "");
        put(0x07, "0.25", "rpm");
        put(0x08, "0.01", "km/h");
        put(0x09, "1", "km/h");
        put(0x0A, "0.122", "mV");
        put(0x0B, "0.001", "V");
        put(0x0C, "0.01", "V");
        put(0x0D, "0.00390625", "mA");
        put(0x0E, "0.001", "A");
        put(0x0F, "0.01", "A");
        put(0x10, "1", "ms");
        put(0x11, "100", "ms");
        put(0x12, "1", "s");
        put(0x13, "0.001", "ohm");
        put(0x14, "1", "ohm");
        put(0x15, "1", "kohm");
        BY_ID.put(0x16, new Scale(new BigDecimal("0.1"), BigDecimal.valueOf(-40), "degC"));
        put(0x17, "0.01", "kPa");
        put(0x18, "0.0117", "kPa");
        put(0x19, "0.079", "kPa");
        put(0x1A, "1", "kPa");
        put(0x1B, "10", "kPa");
        put(0x1C, "0.01", "deg");
        put(0x1D, "0.5", "deg");
        put(0x1E, "0.0000305", "lambda");
        put(0x1F, "0.05", "AFR");
        put(0x24, "1", "");
        put(0x25, "1", "km");
        put(0x27, "0.01", "g/s");
        put(0x28, "1", "g/s");
        put(0x2D, "0.01", "mg/stroke");
        put(0x2F, "0.01", "%");
        put(0x34, "1", "min");
        put(0x35, "10", "ms");
        put(0x81, "1", "");
        put(0x82, "0.1", "");
        put(0x83, "0.01", "");
        put(0x84, "0.001", "");
        put(0x8A, "0.122", "mV");
        put(0x8B, "0.001", "V");
        put(0x8C, "0.01", "V");
        put(0x8D, "0.00390625", "mA");
        put(0x8E, "0.001", "A");
        put(0x96, "0.1", "degC");
        put(0x9C, "0.01", "deg");
        put(0x9D, "0.5", "deg");
        put(0xFE, "0.25", "Pa");
    }

    private Scaling() {}

    private static void put(int id, String factor, String unit) {
        BY_ID.put(id, new Scale(new BigDecimal(factor), BigDecimal.ZERO, unit));
    }

    /** The value of two raw bytes, if the scaling is in the table. */
    static Optional<Value> read(int id, int raw, String name) {
        Scale scale = BY_ID.get(id);
        if (scale == null) {
            return Optional.empty();
        }
        int number = id > 0x80 ? (short) raw : raw;
        BigDecimal value = BigDecimal.valueOf(number).multiply(scale.factor).add(scale.offset);
        return Optional.of(new Value(name, value, scale.unit));
    }
}
