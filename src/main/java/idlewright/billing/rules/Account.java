package idlewright.billing.rules;

/** Where money stands in the bookkeeper's journal; plain words, so that each office puts its own numbers to them. */
public enum Account {
    CASH("cash"),
    CARD("card"),
    TRANSFER("bank transfer"),
    OTHER("other means"),
    /** What customers owe on invoices. */
    OWED("owed by customers"),
    /** Deposits, and what customers paid too much. */
    CREDIT("credit of customers"),
    SALES("sales"),
    TAX("tax");

    private final String words;

    Account(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
