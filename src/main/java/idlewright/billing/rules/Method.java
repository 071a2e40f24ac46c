package idlewright.billing.rules;

import java.util.Optional;

/** How money changes hands; credit only moves it from a customer's credit to an invoice and back. */
public enum Method {
    CASH("cash", Account.CASH),
    CARD("card", Account.CARD),
    TRANSFER("transfer", Account.TRANSFER),
    OTHER("other", Account.OTHER),
    CREDIT("credit", Account.CREDIT);

    private final String words;
    private final Account account;

    Method(String words, Account account) {
        this.words = words;
        this.account = account;
    }

    public String words() {
        return words;
    }

    public Account account() {
        return account;
    }

    /** The way a person chose to pay; nothing for what is no way to pay. */
    public static Optional<Method> chosen(String name) {
        for (Method method : values()) {
            if (method != CREDIT && method.name().equals(name)) {
                return Optional.of(method);
            }
        }
        return Optional.empty();
    }
}
