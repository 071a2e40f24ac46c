package idlewright.billing.rules;

/** By which number and why a customer pays no tax, as it is printed. */
public record Exemption(String number, String reason) {

    public String words() {
        return "No tax: %s, number %s.".formatted(reason.replaceAll("\\.$", ""), number);
    }
}
