package idlewright.demo;

import static idlewright.demo.Cast.JORY;
import static idlewright.demo.Cast.NOOR;
import static idlewright.demo.Cast.ODILE;
import static idlewright.demo.Cast.WREN;

import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Remainder;
import idlewright.demo.Ailment.Part;
import idlewright.demo.Cast.Member;
import idlewright.demo.Fleet.Car;
import idlewright.demo.Fleet.Owner;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets.Opening;
import idlewright.intake.rules.ThreadStamp;
import idlewright.proof.rules.Codes;
import idlewright.proof.rules.Monitors;
import idlewright.proof.rules.Outcome;
import idlewright.proof.rules.ReturnReason;
import idlewright.proof.rules.RoadTest;
import idlewright.proof.rules.Statement;
import idlewright.reference.money.Money;
import idlewright.repair.SwapView;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.NumberGround;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import idlewright.warranty.rules.ClaimStep;
import idlewright.warranty.rules.CoreStep;
import idlewright.warranty.rules.Giver;
import idlewright.warranty.rules.Promise;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** One ordinary visit of the demo shop, from the counter to as far as it has come. */
final class Visit {

    /** How far a visit has come, in the order of a good day. */
    enum Until {
        OPENED,
        ASKED,
        BEGUN,
        SEEN,
        TRACED,
        OFFERED,
        AGREED,
        FITTED,
        MENDED,
        PROVED,
        BILLED,
        PAID,
        BACK,
        WATCHED,
        RETURNED,
        EXPLAINED
    }

    /**
     * A line of the list of visits.
     *
     * @param ends how the thread ends when not by a proof: DECLINED or UNTRACED
     * @param again key of the visit that this one comes back from
     */
    record Plan(
            String key,
            Car car,
            int daysAgo,
            Ailment ailment,
            Until until,
            Member technician,
            @Nullable ThreadStamp ends,
            @Nullable String again,
            Set<String> turns) {}

    private final Plan plan;
    private final Days days;
    private final Random chance;
    private final Member writer;
    private final Owner owner;
    private final Bay bay;
    private final LocalDate first;
    private final LocalDate second;

    private Visit(Plan plan, Days days) {
        this.plan = plan;
        this.days = days;
        this.chance = new Random(plan.key().hashCode());
        this.writer = chance.nextInt(3) == 0 ? JORY : WREN;
        this.owner = Objects.requireNonNull(Fleet.OWNERS.get(plan.car().owner()));
        this.bay = new Bay(plan.car(), chance.nextLong());
        this.first = days.ago(plan.daysAgo());
        this.second = days.after(first);
    }

    static void into(Script script, Plan plan, Days days) {
        new Visit(plan, days).play(script);
    }

    private void play(Script script) {
        script.at(moment(first, 8, 5), writer, this::open);
        if (reaches(Until.ASKED)) {
            script.at(moment(first, 8, 25), writer, this::agreeToTheDiagnosis);
        }
        if (reaches(Until.BEGUN)) {
            tests(script, first, 9, tested(), false);
        }
        if (plan.ends() == ThreadStamp.UNTRACED) {
            script.at(moment(first, 14, 40), plan.technician(), this::giveUp);
        } else if (plan.ends() == ThreadStamp.DECLINED) {
            trace(script);
            script.at(moment(first, 15, 40), writer, this::decline);
        } else {
            trace(script);
            repair(script);
        }
        bill(script);
        afterwards(script);
    }

    private void trace(Script script) {
        if (reaches(Until.TRACED)) {
            script.at(moment(first, 12, 20), plan.technician(), this::decide);
        }
        if (reaches(Until.OFFERED)) {
            script.at(moment(first, 13, 5), writer, this::offer);
        }
    }

    private void repair(Script script) {
        if (reaches(Until.AGREED)) {
            script.at(moment(first, 14, 10), writer, this::agreeToTheRepair);
        }
        if (turns("deposit")) {
            script.at(
                    moment(first, 14, 30),
                    writer,
                    scene -> scene.credits()
                            .deposit(number(scene), scene.money("50.00"), "CARD", "before the part is ordered"));
        }
        if (reaches(Until.FITTED)) {
            script.at(moment(second, 8, 30), plan.technician(), this::fit);
        }
        if (reaches(Until.MENDED)) {
            if (turns("rise")) {
                script.at(moment(second, 9, 0), writer, this::agreeToARise);
            }
            script.at(moment(second, 9, 20), plan.technician(), this::mend);
        }
        if (reaches(Until.PROVED)) {
            tests(script, second, 10, repeated(), true);
            script.at(moment(second, 13, 0), plan.technician(), this::prove);
        }
    }

    private void bill(Script script) {
        if (reaches(Until.BILLED)) {
            script.at(moment(second, 14, 0), writer, scene -> scene.invoices().issue(number(scene)));
        }
        if (reaches(Until.PAID) && !turns("unpaid")) {
            script.at(moment(second, 15, 30), writer, this::pay);
        }
        if (turns("part-credited")) {
            script.at(moment(days.after(second), 17, 10), ODILE, this::creditPart);
        }
        if (turns("refunded")) {
            script.at(moment(days.after(second), 9, 20), writer, this::refund);
        }
        if (turns("claims")) {
            script.at(moment(second, 16, 50), ODILE, this::claim);
        }
        if (turns("granted") || turns("refused")) {
            script.at(moment(days.after(second.plusDays(18)), 17, 20), ODILE, this::settle);
        }
        if (reaches(Until.BACK)) {
            script.at(moment(second, 16, 10), writer, this::handBack);
        }
        if (core()) {
            cores(script);
        }
        if (turns("forgot")) {
            script.at(moment(days.after(second), 8, 2), plan.technician(), this::setTheClockRight);
        }
    }

    private void cores(Script script) {
        if (!plan.ailment().kind().equals("stumble-tip-in")) {
            script.at(moment(second, 16, 40), writer, scene -> core(scene, CoreStep.CHARGED, "38.00", second, ""));
        }
        if (turns("core-returned") || turns("core-credited")) {
            LocalDate back = days.after(second.plusDays(3));
            script.at(
                    moment(back, 11, 0),
                    writer,
                    scene -> core(scene, CoreStep.RETURNED, null, back, "with the driver, receipt in the folder"));
        }
        if (turns("core-credited")) {
            LocalDate paid = days.after(second.plusDays(15));
            script.at(moment(paid, 16, 30), ODILE, scene -> core(scene, CoreStep.CREDITED, "38.00", paid, ""));
        }
    }

    private void core(Scene scene, CoreStep kind, @Nullable String amount, LocalDate day, String note) {
        long swap = scene.swaps().of(number(scene)).get(0).id();
        scene.cores().step(swap, kind, amount == null ? null : scene.money(amount), day, note);
    }

    private void setTheClockRight(Scene scene) {
        var mine = scene.clocks().mine();
        if (mine.isPresent() && mine.get().thread().ticket().equals(number(scene))) {
            var span = mine.get();
            scene.clocks()
                    .correct(
                            span.id(),
                            span.startedAt(),
                            span.startedAt().plusSeconds(3060),
                            "forgot to stop it when the part was in");
        }
    }

    private void afterwards(Script script) {
        if (plan.until() == Until.WATCHED) {
            if (turns("missed")) {
                script.at(moment(days.after(second.plusDays(6)), 9, 40), writer, this::miss);
            }
            if (turns("by-link")) {
                script.at(moment(days.after(second.plusDays(6)), 9, 10), writer, this::askByLink);
            }
            script.at(moment(days.after(second.plusDays(9)), 10, 15), writer, this::watch);
        }
        if (reaches(Until.EXPLAINED)) {
            script.at(moment(days.after(second.plusDays(26)), 17, 5), ODILE, this::explain);
        }
    }

    /** The tests before the repair, as far as the visit has come. */
    private List<Trial> tested() {
        List<Trial> all = plan.ailment().before().apply(bay);
        return plan.until() == Until.BEGUN || plan.until() == Until.SEEN
                ? all.subList(0, Math.min(all.size(), plan.until() == Until.SEEN ? 2 : 4))
                : all;
    }

    /** What was out of order is looked at again, the complaint and the codes too. */
    private List<Trial> repeated() {
        var again = new ArrayList<Trial>();
        for (Trial trial : plan.ailment().before().apply(bay)) {
            boolean seen = trial.takes().stream()
                    .anyMatch(take -> List.of("seen", "intermittent").contains(take.typed()));
            boolean stored = trial.procedure().equals("codes")
                    && trial.takes().stream().noneMatch(take -> take.typed().equals("none"));
            if (stored) {
                again.add(0, bay.codesCleared());
            } else if (seen) {
                again.add(bay.notSeen());
            }
        }
        again.addAll(Math.max(0, again.size() - 1), plan.ailment().after().apply(bay));
        return again;
    }

    private void tests(Script script, LocalDate day, int hour, List<Trial> trials, boolean after) {
        Instant moment = moment(day, hour, 5);
        for (int i = 0; i < trials.size(); i++) {
            Trial trial = trials.get(i);
            boolean calledAway = plan.until() == Until.BEGUN && i == trials.size() - 1;
            script.at(moment, plan.technician(), scene -> {
                if (!after && trial.equals(trials.get(0))) {
                    scene.tickets().take(number(scene));
                    if (clocked()) {
                        scene.clocks().start(thread(scene), "Diagnosis");
                    }
                }
                if (calledAway) {
                    var half = new Trial(
                            trial.procedure(), trial.conditions(), trial.takes().subList(0, 2));
                    scene.begin(number(scene), List.of(1), after, half);
                } else {
                    scene.perform(number(scene), List.of(1), after, trial);
                }
            });
            moment = moment.plusSeconds(60L * (9 + chance.nextInt(12)));
        }
    }

    private boolean reaches(Until stage) {
        return plan.until().compareTo(stage) >= 0;
    }

    private boolean turns(String turn) {
        return plan.turns().contains(turn);
    }

    private Instant moment(LocalDate day, int hour, int minute) {
        return days.at(day, LocalTime.of(hour, minute).plusMinutes(chance.nextInt(15)));
    }

    private TicketNumber number(Scene scene) {
        return scene.ticket(plan.key());
    }

    private SymptomRef thread(Scene scene) {
        return new SymptomRef(number(scene), 1);
    }

    private BigDecimal distance(int more) {
        return plan.car().kmAgo(plan.daysAgo()).add(BigDecimal.valueOf(more));
    }

    private void open(Scene scene) {
        var opening = new Opening(
                scene.number(plan.car().plate()),
                distance(0),
                null,
                String.valueOf(1 + chance.nextInt(24)),
                oldParts(List.of("NOT_WANTED", "SHOW", "GIVE_BACK").get(chance.nextInt(3))),
                List.of("YES", "YES", "WITH_CUSTOMER").get(chance.nextInt(3)));
        String words =
                plan.ailment().words().get(chance.nextInt(plan.ailment().words().size()));
        if (plan.again() == null) {
            TicketNumber opened = scene.tickets().open(opening);
            scene.remember(plan.key(), opened.value());
            scene.tickets().hear(opened, plan.ailment().kind(), words);
        } else {
            var earlier = new SymptomRef(scene.ticket(plan.again()), 1);
            String now = "It is back, the same as before. " + words;
            scene.followUps().record(earlier.ticket(), Map.of(1, Outcome.RETURNED), now, false, null);
            scene.remember(
                    plan.key(),
                    scene.followUps()
                            .openComeback(earlier, now, distance(0), null)
                            .value());
        }
        scene.tickets().answer(thread(scene), plan.ailment().answers());
        if (turns("noted")) {
            scene.tickets().hear(number(scene), "lamp-on", "The lamp comes on now and then, I do not mind it.");
        }
    }

    private void agreeToTheDiagnosis(Scene scene) {
        Money amount = plan.again() == null ? scene.gross(List.of(diagnosis(scene))) : scene.money("0.00");
        scene.authorisations()
                .agree(
                        number(scene),
                        Agreement.DIAGNOSIS,
                        amount,
                        plan.again() == null ? "find out what it is" : "have another look, and not at my cost",
                        Channel.IN_PERSON,
                        owner.who(),
                        null);
        scene.charges().addDiagnosis(number(scene), amount);
    }

    /** The clocks came to the bay some weeks ago; comebacks were timed before that. Nobody works at two cars at once. */
    private boolean clocked() {
        return turns("clock") || plan.again() != null && plan.daysAgo() > 1;
    }

    private void decide(Scene scene) {
        if (clocked()) {
            scene.clocks().stop();
        }
        scene.findings()
                .decide(
                        thread(scene),
                        plan.ailment().cause(),
                        plan.ailment().seen(),
                        plan.ailment().part() == null
                                ? plan.ailment().labour()
                                : "Replace: " + plan.ailment().part().what().toLowerCase(Locale.ROOT));
        if (turns("noted")) {
            scene.tickets()
                    .end(
                            new SymptomRef(number(scene), 2),
                            ThreadStamp.DECLINED,
                            owner.who() + " wants it left; told that the lamp then warns of nothing new.");
        }
        scene.tickets().putDown(number(scene));
    }

    private void offer(Scene scene) {
        var lines = new ArrayList<>(estimate(scene));
        var estimate = scene.estimates().write(number(scene), lines, null);
        if (turns("offer-link")) {
            lines.add(Line.typed(
                    1, LineKind.DISCOUNT_WORK, "Because you waited a day", BigDecimal.ONE, scene.money("15.00"), null));
            var second = scene.estimates().write(number(scene), lines, "The part is here tomorrow at nine.");
            scene.offers().link(second.id());
        } else if (turns("answered-link")) {
            lines.add(new Line(0, LineKind.FEE, "Car washed and vacuumed", BigDecimal.ONE, scene.money("18.00"), null));
            scene.offers()
                    .link(scene.estimates().write(number(scene), lines, null).id());
        } else {
            scene.estimates().offer(estimate.id(), channel().words());
        }
    }

    private void agreeToTheRepair(Scene scene) {
        var estimate = scene.estimates().latest(number(scene)).orElseThrow();
        if (turns("answered-link")) {
            String path = scene.offers().link(estimate.id()).path();
            scene.offers().answer(path.substring("/offers/".length()), Map.of(0, false, 1, true), owner.who());
            return;
        }
        scene.authorisations()
                .agree(
                        number(scene),
                        Agreement.REPAIR,
                        estimate.total().gross(),
                        List.of(
                                        "go ahead",
                                        "yes, do it",
                                        "go ahead, I need it tomorrow",
                                        "fine, and tell me if it gets more")
                                .get(chance.nextInt(4)),
                        channel(),
                        owner.who(),
                        estimate.id());
    }

    private void agreeToARise(Scene scene) {
        scene.authorisations()
                .agree(
                        number(scene),
                        Agreement.RISE,
                        scene.gross(List.of(seized(scene))),
                        "two bolts seized, told the price: well, it has to come off",
                        Channel.PHONE,
                        owner.who(),
                        null);
    }

    private void giveUp(Scene scene) {
        scene.tickets()
                .end(
                        thread(scene),
                        ThreadStamp.UNTRACED,
                        "Three road tests and a log without it coming; asked to note when it does.");
        scene.tickets().putDown(number(scene));
    }

    private void decline(Scene scene) {
        scene.tickets()
                .end(
                        thread(scene),
                        ThreadStamp.DECLINED,
                        owner.who() + " wants to wait until after the season; told that it can get worse.");
    }

    /** The part goes in; whether it stays is said later. */
    private void fit(Scene scene) {
        scene.tickets().take(number(scene));
        if (clocked()) {
            scene.clocks().start(thread(scene), "Mechanical");
        }
        Part part = plan.ailment().part();
        if (part == null) {
            return;
        }
        String oldParts = scene.tickets().get(number(scene)).oldParts();
        String number = turns("supersedes") ? part.fitted() + "2" : turns("other-number") ? "MV-4417-B" : part.fitted();
        long swap = scene.swaps()
                .start(
                        thread(scene),
                        new RemovedPart(
                                part.removed(),
                                part.maker(),
                                "%02d/%d"
                                        .formatted(
                                                3 + chance.nextInt(40),
                                                plan.car().year() % 100),
                                part.condition(),
                                went(oldParts)),
                        new FittedPart(
                                part.what(),
                                number,
                                part.maker(),
                                "L" + (2400 + chance.nextInt(400)),
                                part.supplier(),
                                scene.money(part.cost())),
                        turns("trial") || plan.until() == Until.FITTED,
                        pay(scene, LineKind.PART));
        if (plan.until() == Until.FITTED) {
            return;
        }
        if (plan.daysAgo() < 420) {
            scene.partTerms()
                    .keep(
                            swap,
                            Giver.SUPPLIER,
                            new Promise(
                                    24,
                                    new BigDecimal("40000"),
                                    "km",
                                    part.what().contains("attery")),
                            part.what().startsWith("Air-flow"),
                            "delivery note of " + part.supplier());
        }
        if (turns("supersedes")) {
            scene.swaps().account(swap, new NumberGround.Supersession("Corrin parts list of March, page 212"));
        }
        if (turns("other-number")) {
            scene.swaps()
                    .account(
                            swap,
                            new NumberGround.Consent(
                                    "the listed one is not to be had for two weeks",
                                    owner.who(),
                                    channel().words()));
        }
        scene.swaps().answer(swap, checks(part));
    }

    /** A core cannot go to the customer and back to the supplier too. */
    private String oldParts(String wanted) {
        return core() ? "SHOW" : wanted;
    }

    private boolean core() {
        return plan.turns().stream().anyMatch(turn -> turn.startsWith("core"));
    }

    private Went went(String oldParts) {
        if (core()) {
            return Went.CORE;
        }
        if (turns("claims") || plan.again() != null) {
            return Went.WARRANTY_HOLD;
        }
        return switch (oldParts) {
            case "GIVE_BACK" -> Went.TO_CUSTOMER;
            case "SHOW" -> Went.KEPT;
            default -> Went.SCRAP;
        };
    }

    private static Map<Check, Answer> checks(Part part) {
        boolean flows = part.what().startsWith("Air-flow");
        boolean piped = flows || part.what().startsWith("Intake") || part.what().startsWith("Fuel");
        boolean plugged = flows
                || part.what().contains("ensor")
                || part.what().contains("coil")
                || part.what().contains("valve");
        var answers = new EnumMap<Check, Answer>(Check.class);
        for (Check check : Check.values()) {
            boolean has = switch (check) {
                case MARK_OLD, MARK_NEW, MARK_MATCHED -> flows || part.what().startsWith("Fuel");
                case CLAMPS -> piped;
                case INTAKE -> flows || part.what().startsWith("Intake");
                case LOCKED -> plugged;
                default -> true;
            };
            answers.put(check, has ? Answer.yes() : new Answer(Answer.Seen.ABSENT, ""));
        }
        return answers;
    }

    private void mend(Scene scene) {
        if (turns("rise")) {
            scene.labours()
                    .add(
                            thread(scene),
                            seized(scene).what(),
                            seized(scene).quantity(),
                            new Pay.ByHand(scene.rates().labourRate()));
        }
        if (clocked() && !turns("forgot")) {
            scene.clocks().stop();
            scene.labours()
                    .addClocked(thread(scene), plan.ailment().labour(), "Mechanical", pay(scene, LineKind.LABOUR));
        } else {
            scene.labours()
                    .add(
                            thread(scene),
                            plan.ailment().labour(),
                            new BigDecimal(plan.ailment().hours()),
                            pay(scene, LineKind.LABOUR));
        }
        scene.swaps().of(number(scene)).stream()
                .filter(SwapView::open)
                .forEach(swap -> scene.swaps().makeFinal(swap.id()));
        if (plan.again() != null) {
            scene.charges()
                    .uncharged(number(scene))
                    .forEach(line -> scene.charges().addFromEstimate(number(scene), line.id(), null, null));
        }
        scene.labours().done(thread(scene), plan.ailment().correction());
    }

    /** A comeback is on the shop; everything else as the estimate says. */
    private Pay pay(Scene scene, LineKind kind) {
        if (plan.again() != null) {
            return new Pay.Free("our repair of ticket " + scene.ticket(plan.again()) + " came back");
        }
        return scene.charges().uncharged(number(scene)).stream()
                .filter(line -> line.line().kind() == kind)
                .findFirst()
                .<Pay>map(line -> new Pay.ByEstimate(line.id()))
                .orElseThrow();
    }

    private void prove(Scene scene) {
        var view = scene.proofs().look(thread(scene));
        boolean coded = !view.recordedCodes().isEmpty();
        scene.proofs()
                .prove(
                        thread(scene),
                        new Statement(
                                coded ? Codes.RECORDED_CLEARED : Codes.NONE_STORED,
                                "",
                                coded ? Monitors.SOME_NOT_READY : Monitors.READY,
                                coded ? "catalyst and evaporation not ready yet" : "",
                                RoadTest.GONE,
                                "",
                                plan.again() == null ? "" : NOOR.name()));
        scene.tickets().putDown(number(scene));
    }

    private void pay(Scene scene) {
        var invoice = scene.invoices().of(number(scene)).orElseThrow();
        String drawn = List.of("CARD", "CASH", "TRANSFER").get(chance.nextInt(3));
        String method = turns("cash") ? "CASH" : turns("refunded") ? "CARD" : drawn;
        if (turns("paid-over")) {
            scene.payments()
                    .take(
                            invoice.number(),
                            invoice.owed().plus(scene.money("18.50")),
                            "TRANSFER",
                            "they paid the first estimate",
                            true);
            return;
        }
        if (turns("from-credit")) {
            scene.payments().useCredit(invoice.number(), scene.money("18.50"));
        }
        if (turns("half")) {
            scene.payments().take(invoice.number(), scene.money("100.00"), "CASH", "the rest at the month's end");
            return;
        }
        var owed = scene.invoices().get(invoice.number()).owed();
        if (owed.isPositive()) {
            scene.payments().take(invoice.number(), owed, method, null);
        }
    }

    private void refund(Scene scene) {
        var invoice = scene.invoices().of(number(scene)).orElseThrow();
        var paid = scene.payments().of(invoice.number()).get(0);
        scene.payments().refund(paid.id(), paid.amount(), "CARD", "wrong card; the firm pays by transfer");
        scene.payments().take(invoice.number(), paid.amount(), "TRANSFER", null);
    }

    /** Half an hour of work is taken back: the customer waited for the part. */
    private void creditPart(Scene scene) {
        var invoice = scene.invoices().of(number(scene)).orElseThrow();
        var work = scene.invoices().left(invoice.number()).open().stream()
                .filter(item -> item.line().kind() == LineKind.LABOUR)
                .findFirst()
                .orElseThrow();
        scene.invoices()
                .credit(
                        invoice.number(),
                        "Half an hour of it went into looking for our own ladder.",
                        List.of(new Remainder.Wish(work.nr(), new BigDecimal("0.5"), null)));
    }

    private void handBack(Scene scene) {
        scene.tickets().handBack(number(scene), distance(14 + chance.nextInt(20)), null, 7);
    }

    private void miss(Scene scene) {
        scene.followUps().record(number(scene), Map.of(1, Outcome.NOT_REACHED), "nobody picked up", false, 2);
    }

    private void askByLink(Scene scene) {
        var link = scene.answerLinks().make(number(scene));
        String secret = link.path().substring(link.path().lastIndexOf('/') + 1);
        scene.answerLinks().answer(secret, Map.of(1, Outcome.STAYED_AWAY), "Goes like it used to. Thank you.");
    }

    private void watch(Scene scene) {
        boolean better = turns("better");
        scene.followUps()
                .record(
                        number(scene),
                        Map.of(1, better ? Outcome.BETTER : Outcome.STAYED_AWAY),
                        turns("by-link")
                                ? ""
                                : better
                                        ? "Much better, though the first pull in the morning is still lazy."
                                        : List.of("runs well since", "no trouble", "happy with it", "as it should be")
                                                .get(chance.nextInt(4)),
                        turns("by-link"),
                        null);
    }

    private void explain(Scene scene) {
        String because = plan.turns().stream()
                .filter(turn -> turn.startsWith("because="))
                .map(turn -> turn.substring(8))
                .findFirst()
                .orElse("PART_FAILED_LATER");
        var reason = ReturnReason.valueOf(because);
        scene.followUps()
                .explain(
                        thread(scene),
                        reason,
                        switch (reason) {
                            case DEFECTIVE_PART -> "The part failed within days; the supplier has it back.";
                            case WRONG_PART ->
                                "We fitted the other number because it was on the shelf. It reads low above 2,000 rpm.";
                            case INCOMPLETE -> "The hose was replaced, the clamp behind it was not tightened.";
                            case WORKMANSHIP -> "The connector was not pushed home.";
                            default -> "The same part went again.";
                        });
    }

    /** The owner asks the supplier for what the comeback cost. */
    private void claim(Scene scene) {
        var earlier = new SymptomRef(scene.ticket(Objects.requireNonNull(plan.again())), 1);
        Part part = Objects.requireNonNull(plan.ailment().part());
        String dossier = scene.dossiers().seal(earlier, false, true).code();
        long claim = scene.claims()
                .make(
                        earlier.ticket(),
                        1,
                        part.supplier(),
                        part.what() + " " + part.fitted(),
                        scene.money(part.cost()),
                        dossier,
                        scene.swaps().of(earlier.ticket()).stream()
                                .findFirst()
                                .map(SwapView::id)
                                .orElse(null));
        scene.claims().step(claim, ClaimStep.SENT, null, "by e-mail, dossier attached");
    }

    private void settle(Scene scene) {
        var earlier = scene.ticket(Objects.requireNonNull(plan.again()));
        long claim = scene.claims().of(earlier).get(0).id();
        if (turns("refused")) {
            scene.claims().step(claim, ClaimStep.REFUSED, null, "they say the clamp was tightened too far");
        } else {
            Money cost =
                    scene.money(Objects.requireNonNull(plan.ailment().part()).cost());
            scene.claims().step(claim, ClaimStep.GRANTED, cost, "found open when warm on their bench");
            scene.claims().step(claim, ClaimStep.PAID, cost, "credit note");
        }
    }

    private Line diagnosis(Scene scene) {
        return new Line(
                0,
                LineKind.DIAGNOSIS,
                "Diagnosis",
                BigDecimal.ONE,
                scene.rates().diagnosisFee(),
                null);
    }

    private static Line seized(Scene scene) {
        return new Line(
                1,
                LineKind.LABOUR,
                "Seized bolts drilled out",
                new BigDecimal("0.6"),
                scene.rates().labourRate(),
                null);
    }

    private List<Line> estimate(Scene scene) {
        if (plan.again() != null) {
            return List.of(
                    new Line(1, LineKind.FEE, "Seals and small parts", BigDecimal.ONE, scene.money("14.00"), null));
        }
        var lines = new ArrayList<Line>();
        var part = plan.ailment().part();
        if (part != null) {
            lines.add(
                    new Line(1, LineKind.PART, part.what(), BigDecimal.ONE, scene.money(part.price()), part.fitted()));
        }
        lines.add(new Line(
                1,
                LineKind.LABOUR,
                plan.ailment().labour(),
                new BigDecimal(plan.ailment().hours()),
                scene.rates().labourRate(),
                null));
        return lines;
    }

    private Channel channel() {
        return switch (String.valueOf(owner.telling().contactBy())) {
            case "EMAIL" -> Channel.EMAIL;
            case "TEXT" -> Channel.TEXT;
            default -> Channel.PHONE;
        };
    }

    static Member technician(String name) {
        return switch (name) {
            case "tamsin" -> Cast.TAMSIN;
            case "eskil" -> Cast.ESKIL;
            case "mabry" -> Cast.MABRY;
            default -> NOOR;
        };
    }
}
