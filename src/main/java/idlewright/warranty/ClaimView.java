package idlewright.warranty;

import idlewright.intake.TicketNumber;
import idlewright.reference.money.Money;
import idlewright.warranty.rules.ClaimStep;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Money asked back from a supplier, and how far that has come.
 *
 * @param dossier code of the dossier it goes out with, the one that was joined last
 * @param joined those that were joined after the claim was written
 */
public record ClaimView(
        long id,
        TicketNumber ticket,
        int place,
        String supplier,
        String part,
        @Nullable Long swap,
        @Nullable String dossier,
        List<Joined> joined,
        Money amount,
        Money paid,
        Instant madeAt,
        String madeBy,
        List<Step> steps) {

    /** One thing that happened to the claim. */
    public record Step(ClaimStep kind, @Nullable Money amount, String note, Instant at, String who) {}

    /** A dossier that was joined to the claim. */
    public record Joined(String dossier, Instant at, String who) {}

    /** One line of the claim's story. */
    public record Event(String title, String who, Instant at, String note) {}

    /** All that happened to it, in order. */
    public List<Event> story() {
        return Stream.concat(
                        joined.stream()
                                .map(one -> new Event("Dossier " + one.dossier() + " joined", one.who(), one.at(), "")),
                        steps.stream()
                                .map(step -> new Event(
                                        Character.toUpperCase(
                                                        step.kind().words().charAt(0))
                                                + step.kind().words().substring(1)
                                                + (step.amount() == null
                                                        ? ""
                                                        : " " + step.amount().text()),
                                        step.who(),
                                        step.at(),
                                        step.note())))
                .sorted(Comparator.comparing(Event::at))
                .toList();
    }

    public boolean has(ClaimStep kind) {
        return steps.stream().anyMatch(step -> step.kind() == kind);
    }

    private @Nullable Step last() {
        return steps.isEmpty() ? null : steps.get(steps.size() - 1);
    }

    public @Nullable Instant sentAt() {
        return steps.stream()
                .filter(step -> step.kind() == ClaimStep.SENT)
                .map(Step::at)
                .findFirst()
                .orElse(null);
    }

    /** What they said; money without a word is an answer too. */
    public @Nullable Step answer() {
        return steps.stream()
                .filter(step -> step.kind() == ClaimStep.GRANTED || step.kind() == ClaimStep.REFUSED)
                .reduce((first, second) -> second)
                .or(() -> steps.stream()
                        .filter(step -> step.kind() == ClaimStep.PAID)
                        .findFirst())
                .orElse(null);
    }

    /** What was asked less what came. */
    public Money difference() {
        return amount.minus(paid);
    }

    /** What was said about the difference, the latest word; empty where nothing differs or nobody said. */
    public String differenceWords() {
        return difference().isZero()
                ? ""
                : steps.stream()
                        .filter(step ->
                                step.kind() != ClaimStep.SENT && !step.note().isEmpty())
                        .map(Step::note)
                        .reduce((first, second) -> second)
                        .orElse("");
    }

    /** Whether there is still something to be had. */
    public boolean open() {
        return !has(ClaimStep.DROPPED) && difference().isPositive();
    }

    /** What is not yet recovered; nothing once it is dropped. */
    public Money missing() {
        return open() ? difference() : Money.zero(amount.currency());
    }

    public String state() {
        Step last = last();
        if (last == null) {
            return "not sent yet";
        }
        if (last.kind() == ClaimStep.PAID && difference().isPositive()) {
            return "paid in part";
        }
        return last.kind().words();
    }
}
