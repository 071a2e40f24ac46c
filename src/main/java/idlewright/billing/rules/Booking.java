package idlewright.billing.rules;

/** What one row of money is, told from where it goes. */
public enum Booking {
    PAYMENT("payment", "Paid"),
    REFUND("refund", "Paid back"),
    DEPOSIT("deposit", "Deposit"),
    DEPOSIT_USED("deposit taken off", "From the deposit"),
    KEPT("kept as credit", "Kept as credit"),
    CREDIT_USED("credit used", "From the credit"),
    CREDIT_RETURNED("back to credit", "Back to the credit"),
    PAID_OUT("credit paid out", "Paid back");

    private final String words;
    private final String title;

    Booking(String words, String title) {
        this.words = words;
        this.title = title;
    }

    public String words() {
        return words;
    }

    public String title() {
        return title;
    }

    /** Whether the till holds more or less because of it. */
    public boolean throughTheTill() {
        return this != DEPOSIT_USED && this != CREDIT_USED && this != CREDIT_RETURNED;
    }

    /**
     * Tells what a row is.
     *
     * @param invoice whether it is for an invoice, else for the customer's credit
     * @param ticket whether it is a deposit on a ticket
     * @param in whether it is above zero
     */
    public static Booking of(boolean invoice, boolean ticket, boolean in, Method method) {
        if (!invoice) {
            return in ? ticket ? DEPOSIT : KEPT : PAID_OUT;
        }
        if (method == Method.CREDIT) {
            return in ? ticket ? DEPOSIT_USED : CREDIT_USED : CREDIT_RETURNED;
        }
        return in ? PAYMENT : REFUND;
    }

    /** The account that grows by a positive row; the other side is the method's. */
    public Account towards() {
        return switch (this) {
            case PAYMENT, REFUND, DEPOSIT_USED, CREDIT_USED, CREDIT_RETURNED -> Account.OWED;
            case DEPOSIT, KEPT, PAID_OUT -> Account.CREDIT;
        };
    }
}
