package idlewright.reference.obd;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * A parameter of service 01: how many bytes it has and what stands in them.
 *
 * @param id 0 to 255
 * @param length number of data bytes
 */
public record Pid(int id, String name, int length, List<Field> fields) {

    public Pid {
        fields = List.copyOf(fields);
    }

    /** The parameter with this number, if the table has it; bit maps, monitors and codes have no fields. */
    public static Optional<Pid> find(int id) {
        return Optional.ofNullable(PidTable.BY_ID.get(id));
    }

    /** All that the table has, by number. */
    public static List<Pid> all() {
        return List.copyOf(PidTable.BY_ID.values());
    }

    /** Two hexadecimal digits. */
    public String hex() {
        return String.format(Locale.ROOT, "%02X", id);
    }

    /** Something to be read from the data bytes. */
    public sealed interface Field {

        String name();

        Value read(int[] data);
    }

    /**
     * A number: {@code raw * numerator / denominator + offset}.
     *
     * @param at index of its first data byte
     * @param bytes how many bytes it takes, most significant first
     * @param decimals kept when the division does not come out even
     * @param blank a raw value that stands for "not used", or null
     */
    public record Figure(
            String name,
            String unit,
            int at,
            int bytes,
            boolean signed,
            BigDecimal numerator,
            BigDecimal denominator,
            BigDecimal offset,
            int decimals,
            @Nullable Integer blank)
            implements Field {

        @Override
        public Value read(int[] data) {
            int raw = raw(data);
            return blank != null && raw == blank ? new Value(name, "not used", "") : new Value(name, value(raw), unit);
        }

        private int raw(int[] data) {
            int raw = 0;
            for (int i = 0; i < bytes; i++) {
                raw = (raw << 8) | data[at + i];
            }
            int sign = 1 << (8 * bytes - 1);
            return signed && (raw & sign) != 0 ? raw - 2 * sign : raw;
        }

        /** The physical value of a raw one. */
        public BigDecimal value(int raw) {
            BigDecimal exact = BigDecimal.valueOf(raw)
                    .multiply(numerator)
                    .divide(denominator, decimals, RoundingMode.HALF_UP)
                    .add(offset)
                    .stripTrailingZeros();
            return exact.scale() < 0 ? exact.setScale(0) : exact;
        }

        /** The smallest value that can be sent, in {@link #unit}. */
        public BigDecimal min() {
            return value(signed ? -(1 << (8 * bytes - 1)) : 0);
        }

        /** The largest value that can be sent, in {@link #unit}. */
        public BigDecimal max() {
            return value(signed ? (1 << (8 * bytes - 1)) - 1 : (1 << (8 * bytes)) - 1);
        }
    }

    /** A byte that stands for words. */
    public record Choice(String name, int at, Map<Integer, String> words) implements Field {

        public Choice {
            words = Map.copyOf(words);
        }

        @Override
        public Value read(int[] data) {
            return new Value(
                    name, words.getOrDefault(data[at], String.format(Locale.ROOT, "not defined (%02X)", data[at])), "");
        }
    }

    /** A byte in which each bit says yes to one name. */
    public record Flags(String name, int at, List<String> words) implements Field {

        public Flags {
            words = List.copyOf(words);
        }

        @Override
        public Value read(int[] data) {
            List<String> set = new ArrayList<>();
            for (int bit = 0; bit < words.size(); bit++) {
                if ((data[at] >> bit & 1) != 0) {
                    set.add(words.get(bit));
                }
            }
            return new Value(name, set.isEmpty() ? "none" : String.join(", ", set), "");
        }
    }
}
