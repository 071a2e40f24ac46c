package idlewright.intake;

/** One complaint: its ticket and its place on it, counted from 1. The name of a thread in every room. */
public record SymptomRef(TicketNumber ticket, int place) {

    public SymptomRef {
        if (place < 1) {
            throw new IllegalArgumentException("The place of a symptom is counted from 1, not " + place);
        }
    }

    public static SymptomRef of(int ticket, int place) {
        return new SymptomRef(new TicketNumber(ticket), place);
    }

    public String url() {
        return ticket.url() + "/symptoms/" + place;
    }

    @Override
    public String toString() {
        return ticket + "/" + place;
    }
}
