package idlewright.demo;

import static idlewright.demo.Cast.JORY;
import static idlewright.demo.Cast.NOOR;
import static idlewright.demo.Cast.ODILE;
import static idlewright.demo.Cast.WREN;

import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.demo.Cast.Member;
import idlewright.demo.Fleet.Car;
import idlewright.demo.Fleet.Owner;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets.Opening;
import idlewright.intake.rules.ThreadStamp;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
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
        boolean mends = plan.ends() == null;
        script.at(moment(first, 8, 5), writer, this::open);
        if (reaches(Until.ASKED)) {
            script.at(moment(first, 8, 25), writer, this::agreeToTheDiagnosis);
        }
        if (reaches(Until.BEGUN)) {
            script.at(moment(first, 9, 10), plan.technician(), this::test);
        }
        if (reaches(Until.TRACED) && plan.ends() != ThreadStamp.UNTRACED) {
            script.at(moment(first, 11, 20), plan.technician(), this::trace);
        }
        if (reaches(Until.OFFERED) && plan.ends() != ThreadStamp.UNTRACED) {
            script.at(moment(first, 12, 5), writer, this::offer);
        }
        if (reaches(Until.AGREED) && mends) {
            script.at(moment(first, 14, 10), writer, this::agreeToTheRepair);
        }
        if (!mends && reaches(Until.PROVED)) {
            Member who = plan.ends() == ThreadStamp.UNTRACED ? plan.technician() : writer;
            script.at(moment(first, 15, 40), who, this::endWithoutRepair);
        }
        if (reaches(Until.MENDED) && mends) {
            script.at(moment(second, 8, 40), plan.technician(), this::mend);
        }
        if (reaches(Until.PROVED) && mends) {
            script.at(moment(second, 11, 10), plan.technician(), this::prove);
        }
        if (reaches(Until.BILLED)) {
            script.at(moment(second, 14, 0), writer, scene -> scene.invoices().issue(number(scene)));
        }
        if (reaches(Until.PAID) && !turns("unpaid")) {
            script.at(moment(second, 16, 0), writer, this::pay);
        }
        if (reaches(Until.BACK)) {
            script.at(moment(second, 16, 20), writer, this::handBack);
        }
        if (reaches(Until.WATCHED) && plan.until() == Until.WATCHED) {
            script.at(moment(days.after(second.plusDays(7)), 10, 15), writer, this::watch);
        }
        if (reaches(Until.EXPLAINED)) {
            script.at(moment(days.after(second.plusDays(26)), 17, 5), ODILE, this::explain);
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
                List.of("NOT_WANTED", "SHOW", "GIVE_BACK").get(chance.nextInt(3)),
                List.of("YES", "YES", "WITH_CUSTOMER").get(chance.nextInt(3)));
        String words = plan.ailment().words().get(chance.nextInt(plan.ailment().words().size()));
        if (plan.again() == null) {
            TicketNumber opened = scene.tickets().open(opening);
            scene.remember(plan.key(), opened.value());
            scene.tickets().hear(opened, plan.ailment().kind(), words);
        } else {
            var earlier = new SymptomRef(scene.ticket(plan.again()), 1);
            scene.tickets().stamp(earlier, ThreadStamp.RETURNED, "the customer brought it back");
            TicketNumber opened =
                    scene.tickets().openComeback(earlier, "It is back, the same as before. " + words, opening);
            scene.remember(plan.key(), opened.value());
        }
        scene.tickets().answer(thread(scene), plan.ailment().answers());
        if (turns("second")) {
            scene.tickets().hear(number(scene), "poor-economy", "And it drinks, I think.");
        }
    }

    private void agreeToTheDiagnosis(Scene scene) {
        scene.authorisations()
                .agree(
                        number(scene),
                        Agreement.DIAGNOSIS,
                        gross(scene, List.of(diagnosis(scene))),
                        plan.again() == null ? "find out what it is" : "have another look",
                        Channel.IN_PERSON,
                        owner.who(),
                        null);
    }

    private void test(Scene scene) {
        scene.tickets().take(number(scene));
        scene.tickets().stamp(thread(scene), ThreadStamp.REPRODUCED, null);
    }

    private void trace(Scene scene) {
        scene.tickets().stamp(thread(scene), ThreadStamp.TRACED, plan.ailment().seen());
        scene.charges().add(number(scene), diagnosis(scene), null);
        scene.tickets().putDown(number(scene));
    }

    private void offer(Scene scene) {
        var estimate = scene.estimates().write(number(scene), estimate(scene), null);
        scene.estimates().offer(estimate.id(), channel().words());
    }

    private void agreeToTheRepair(Scene scene) {
        var estimate = scene.estimates().latest(number(scene)).orElseThrow();
        scene.authorisations()
                .agree(
                        number(scene),
                        Agreement.REPAIR,
                        estimate.total().gross(),
                        List.of("go ahead", "yes, do it", "go ahead, I need it tomorrow", "fine, and tell me if it gets more")
                                .get(chance.nextInt(4)),
                        channel(),
                        owner.who(),
                        estimate.id());
    }

    private void endWithoutRepair(Scene scene) {
        boolean untraced = plan.ends() == ThreadStamp.UNTRACED;
        if (untraced) {
            scene.charges().add(number(scene), diagnosis(scene), null);
        }
        scene.tickets()
                .end(
                        thread(scene),
                        Objects.requireNonNull(plan.ends()),
                        untraced
                                ? "Three road tests and a log without it coming; asked to note when it does."
                                : owner.who() + " wants to wait until after the season; told that it can get worse.");
        scene.tickets().putDown(number(scene));
    }

    private void mend(Scene scene) {
        scene.tickets().take(number(scene));
        scene.charges().uncharged(number(scene)).forEach(line -> scene.charges()
                .addFromEstimate(number(scene), line.id(), null, null));
        scene.tickets().stamp(thread(scene), ThreadStamp.MENDED, plan.ailment().correction());
    }

    private void prove(Scene scene) {
        scene.tickets().stamp(thread(scene), ThreadStamp.PROVED, null);
        scene.tickets().putDown(number(scene));
    }

    private void pay(Scene scene) {
        var invoice = scene.invoices().of(number(scene)).orElseThrow();
        scene.payments()
                .take(invoice.number(), invoice.owed(), List.of("CARD", "CASH", "TRANSFER").get(chance.nextInt(3)), null);
    }

    private void handBack(Scene scene) {
        scene.tickets().handBack(number(scene), distance(14 + chance.nextInt(20)), null, 7);
    }

    private void watch(Scene scene) {
        scene.tickets().stamp(thread(scene), ThreadStamp.WATCHED, "runs well since");
    }

    private void explain(Scene scene) {
        scene.tickets().stamp(thread(scene), ThreadStamp.EXPLAINED, "part failed early");
    }

    private Line diagnosis(Scene scene) {
        return new Line(0, LineKind.DIAGNOSIS, "Diagnosis", BigDecimal.ONE, scene.rates().diagnosisFee(), null);
    }

    private List<Line> estimate(Scene scene) {
        var lines = new ArrayList<Line>();
        var part = plan.ailment().part();
        if (part != null) {
            lines.add(new Line(1, LineKind.PART, part.what(), BigDecimal.ONE, scene.money(part.price()), part.fitted()));
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

    private static idlewright.reference.money.Money gross(Scene scene, List<Line> lines) {
        return idlewright.billing.rules.Total.of(lines, scene.rates().taxes(), scene.rates().currency())
                .gross();
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
