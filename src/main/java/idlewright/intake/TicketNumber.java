package idlewright.intake;

import java.util.Optional;

/** The number on the key tag and in every address: one visit of one vehicle. */
public record TicketNumber(int value) implements Comparable<TicketNumber> {

    public TicketNumber {
        if (value <= 0) {
            throw new IllegalArgumentException("A ticket number is above zero, not " + value);
        }
    }

    public static TicketNumber of(int value) {
        return new TicketNumber(value);
    }

    public static Optional<TicketNumber> typed(String text) {
        return text.matches("\\d{1,9}") && Integer.parseInt(text) > 0
                ? Optional.of(new TicketNumber(Integer.parseInt(text)))
                : Optional.empty();
    }

    public String url() {
        return "/tickets/" + value;
    }

    @Override
    public int compareTo(TicketNumber other) {
        return Integer.compare(value, other.value);
    }

    @Override
    public String toString() {
        return Integer.toString(value);
    }
}
