package idlewright.demo;

import static idlewright.demo.Cast.ODILE;

import idlewright.bench.Instruments;
import idlewright.bench.rules.InstrumentKind;
import idlewright.billing.EInvoices;
import idlewright.billing.Rates;
import idlewright.billing.WorkRates;
import idlewright.billing.rules.HoursStep;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Rounding;
import idlewright.demo.Visit.Plan;
import idlewright.demo.Visit.Until;
import idlewright.intake.Customers;
import idlewright.intake.rules.ThreadStamp;
import idlewright.reference.money.Money;
import idlewright.warranty.rules.Promise;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** What happened in the demo shop: eighteen months of visits, and what it looks like today. */
final class Stories {

    /** Key, plate, days ago, what it had, how far it came, who worked on it, what else was special about it. */
    private static final String VISITS = """
            v01 | TB 61 FRY | 541 | film       | watched   | tamsin |
            v02 | TB 07 SML | 533 | leak       | watched   | eskil  |
            v03 | TB 85 HRK | 527 | coil       | watched   | mabry  |
            v04 | TB 14 QSF | 519 | film       | watched   | tamsin |
            v05 | TB 38 VAN | 512 | thermostat | watched   | noor   |
            v06 | TB 62 FRY | 505 | fuel       | watched   | eskil  | by-link
            v07 | TB 70 FNN | 497 | leak       | explained | mabry  | because=INCOMPLETE
            v08 | TB 50 ODN | 490 | plugs      | watched   | mabry  |
            v09 | TB 70 FNN | 482 | leak       | watched   | tamsin | again=v07
            v10 | TB 08 SML | 474 | film       | watched   | tamsin | missed
            v11 | TB 11 TMB | 466 | throttle   | watched   | eskil  |
            v12 | TB 63 FRY | 459 | coil       | watched   | mabry  |
            v13 | TB 48 ORM | 451 | battery    | watched   | noor   |
            v14 | TB 18 LND | 444 | purge      | watched   | tamsin |
            v15 | TB 26 BRT | 437 | oxygen     | watched   | eskil  | noted
            v16 | TB 55 PEL | 429 | fuel       | watched   | eskil  |
            v17 | TB 92 VNN | 421 | film       | watched   | tamsin |
            v18 | TB 40 HGF | 414 | throttle   | watched   | noor   | by-link
            v19 | TB 77 VAN | 407 | battery    | watched   | eskil  |
            v20 | TB 19 SML | 399 | leak       | watched   | tamsin |
            v21 | TB 95 ACH | 391 | crank      | explained | mabry  | because=DEFECTIVE_PART
            v22 | TB 51 ODN | 383 | plugs      | watched   | mabry  |
            v23 | TB 95 ACH | 371 | crank      | watched   | tamsin | again=v21 claims granted
            v24 | TB 73 STN | 363 | leak       | watched   | eskil  | better
            v25 | TB 33 CAS | 355 | coolant    | watched   | noor   |
            v26 | TB 64 FRY | 347 | coil       | watched   | mabry  | trial
            v27 | TB 29 MRC | 340 | film       | watched   | tamsin | supersedes
            v28 | TB 56 PEL | 331 | wire       | watched   | tamsin |
            v29 | TB 04 SOL | 323 | battery    | watched   | noor   |
            v30 | TB 31 GRB | 316 | leak       | watched   | eskil  |
            v31 | TB 85 HRK | 308 | ground     | watched   | eskil  |
            v32 | TB 61 FRY | 299 | fuel       | watched   | eskil  |
            v33 | TB 52 ODN | 291 | plugs      | watched   | mabry  |
            v34 | TB 26 BRT | 283 | brake      | watched   | noor   |
            v35 | TB 07 SML | 275 | film       | explained | mabry  | other-number because=WRONG_PART
            v36 | TB 48 ORM | 268 | coolant    | watched   | eskil  |
            v37 | TB 07 SML | 259 | film       | watched   | tamsin | again=v35
            v38 | TB 11 TMB | 251 | coil       | watched   | mabry  |
            v39 | TB 38 VAN | 243 | catalyst   | watched   | noor   | rise
            v40 | TB 62 FRY | 235 | leak       | watched   | tamsin |
            v41 | TB 92 VNN | 226 | lamp       | watched   | tamsin | untraced
            v42 | TB 70 FNN | 219 | oxygen     | watched   | eskil  |
            v43 | TB 14 QSF | 211 | coil       | watched   | mabry  |
            v44 | TB 50 ODN | 204 | throttle   | watched   | noor   | missed
            v45 | TB 73 STN | 196 | film       | watched   | tamsin |
            v46 | TB 08 SML | 188 | leak       | explained | mabry  | because=PART_FAILED_LATER
            v47 | TB 63 FRY | 181 | wire       | watched   | eskil  |
            v48 | TB 08 SML | 171 | leak       | watched   | tamsin | again=v46 claims refused
            v49 | TB 18 LND | 163 | brake      | watched   | noor   |
            v50 | TB 29 MRC | 155 | oxygen     | watched   | eskil  |
            v51 | TB 40 HGF | 148 | film       | watched   | tamsin |
            v52 | TB 95 ACH | 140 | plugs      | watched   | mabry  |
            v53 | TB 64 FRY | 131 | fuel       | watched   | eskil  | rise core-credited
            v54 | TB 33 CAS | 124 | purge      | watched   | tamsin | unpaid
            v55 | TB 55 PEL | 116 | coil       | explained | mabry  | because=DEFECTIVE_PART
            v56 | TB 04 SOL | 109 | throttle   | watched   | noor   |
            v57 | TB 55 PEL | 101 | coil       | watched   | tamsin | again=v55 claims
            v58 | TB 61 FRY |  93 | leak       | watched   | eskil  | unpaid clock
            v59 | TB 19 SML |  86 | film       | watched   | tamsin | trial clock paid-over
            v60 | TB 51 ODN |  78 | crank      | watched   | mabry  | by-link clock paid-over
            v61 | TB 77 VAN |  71 | brake      | watched   | noor   | unpaid clock
            v62 | TB 31 GRB |  64 | coil       | watched   | mabry  | clock deposit
            v63 | TB 85 HRK |  57 | plugs      | back      | mabry  | declined clock
            v64 | TB 56 PEL |  50 | throttle   | watched   | noor   | clock
            v65 | TB 26 BRT |  43 | film       | watched   | tamsin | unpaid clock part-credited
            v66 | TB 62 FRY |  36 | crank      | watched   | eskil  | core-returned clock refunded
            v67 | TB 48 ORM |  30 | leak       | returned  | mabry  | clock
            v68 | TB 38 VAN |  24 | coolant    | watched   | noor   | unpaid clock
            v69 | TB 11 TMB |  19 | plugs      | watched   | mabry  | clock half
            v70 | TB 52 ODN |  15 | oxygen     | back      | eskil  | clock from-credit cash
            v71 | TB 63 FRY |  12 | film       | back      | tamsin | core clock deposit cash
            v72 | TB 73 STN |  10 | coil       | back      | mabry  | unpaid clock
            v73 | TB 50 ODN |   5 | battery    | back      | noor   | clock cash
            v74 | TB 14 QSF |   3 | fuel       | back      | eskil  | core cash
            v75 | TB 40 HGF |   2 | coolant    | paid      | noor   | clock cash
            v76 | TB 18 LND |   2 | throttle   | billed    | noor   |
            v77 | TB 64 FRY |   2 | leak       | proved    | tamsin | clock
            v78 | TB 48 ORM |   1 | leak       | traced    | tamsin | again=v67
            v79 | TB 92 VNN |   2 | purge      | mended    | eskil  | forgot clock
            v80 | TB 95 ACH |   1 | catalyst   | offered   | noor   | offer-link
            v81 | TB 29 MRC |   1 | coil       | agreed    | mabry  | answered-link clock deposit
            v87 | TB 26 BRT |   2 | film       | fitted    | tamsin |
            v82 | TB 77 VAN |   0 | thermostat | traced    | noor   | clock
            v83 | TB 08 SML |   0 | film       | begun     | eskil  |
            v84 | TB 04 SOL |   0 | plugs      | seen      | mabry  | clock
            v85 | TB 33 CAS |   0 | oxygen     | asked     | mabry  |
            v86 | TB 51 ODN |   0 | leak       | opened    | noor   |
            """;

    private Stories() {}

    static Script script(Days days) {
        var script = new Script();
        script.chapter("the founding");
        LocalDate founding = days.ago(548);
        script.at(days.at(founding, LocalTime.of(7, 0)), ODILE, Stories::found);
        script.at(days.at(founding, LocalTime.of(7, 20)), ODILE, Stories::setUp);
        script.at(days.at(founding, LocalTime.of(8, 0)), Cast.WREN, Stories::fileTheCars);
        script.chapter("the electronic invoices");
        script.at(days.at(days.ago(4), LocalTime.of(7, 10)), ODILE, Stories::sendElectronicInvoices);
        for (String[] row : Fleet.rows(VISITS, 7)) {
            script.chapter("visit " + row[0]);
            Visit.into(script, plan(row), days);
        }
        script.chapter("the back office");
        BackOffice.into(script, days);
        script.chapter("the van of Grand Row Bakery");
        GrandRow.into(script, days);
        script.chapter("the drawer");
        closings(script, days);
        return script;
    }

    /** The last fortnight is closed evening by evening; the last day waits for whoever looks at the shop. */
    private static void closings(Script script, Days days) {
        LocalDate day = days.ago(14);
        for (int evening = 0; day.isBefore(days.last()); evening++, day = days.after(day)) {
            LocalDate closed = day;
            boolean short50 = evening == 4;
            script.at(
                    days.at(day, LocalTime.of(17, 40)),
                    evening % 3 == 0 ? ODILE : Cast.WREN,
                    scene -> close(scene, closed, short50));
        }
    }

    private static void close(Scene scene, LocalDate day, boolean short50) {
        var open = scene.dayCloses().day(day);
        Money drawer = open.opening().isZero() ? scene.money("150.00") : open.opening();
        Money there = drawer.plus(open.cashIn()).minus(open.cashOut());
        Money counted = short50 ? there.minus(scene.money("0.50")) : there;
        Money float150 = scene.money("150.00");
        scene.dayCloses()
                .close(
                        day,
                        drawer.amount(),
                        counted.amount(),
                        counted.isMoreThan(float150) ? counted.minus(float150).amount() : BigDecimal.ZERO,
                        short50 ? "Fifty short; counted twice, nobody knows." : null);
    }

    private static Plan plan(String[] row) {
        var turns =
                Arrays.stream(row[6].split(" ")).filter(turn -> !turn.isEmpty()).collect(Collectors.toSet());
        return new Plan(
                row[0],
                Objects.requireNonNull(Fleet.CARS.get(row[1])),
                Integer.parseInt(row[2]),
                Ailments.of(row[3]),
                Until.valueOf(row[4].toUpperCase(Locale.ROOT)),
                Visit.technician(row[5]),
                turns.contains("untraced")
                        ? ThreadStamp.UNTRACED
                        : turns.contains("declined") ? ThreadStamp.DECLINED : null,
                again(row[6]),
                turns);
    }

    private static @Nullable String again(String turns) {
        int at = turns.indexOf("again=");
        return at < 0 ? null : turns.substring(at + 6).split(" ")[0];
    }

    private static void found(Scene scene) {
        scene.shops().set(Cast.SHOP, Cast.SHEET);
        for (var member : Cast.ALL) {
            scene.people().hire(member.name(), member.signIn(), member.password(), member.pin(), member.roles());
        }
    }

    /** Late, so that the demo shop has papers with one and without. */
    private static void sendElectronicInvoices(Scene scene) {
        scene.eInvoices()
                .set(new EInvoices.SetUp(
                        true,
                        "IE",
                        "IE5550100T",
                        "",
                        "desk@lanternyard.example",
                        "",
                        "Outside the scope of the tax",
                        scene.eInvoices().setUp().version()));
    }

    private static void setUp(Scene scene) {
        scene.keys().keep("demo", Cast.API_KEY);
        var card = scene.rates().card();
        scene.rates()
                .set(new Rates.Card(
                        new BigDecimal("79.00"),
                        new BigDecimal("96.00"),
                        new BigDecimal("35"),
                        "VAT",
                        new BigDecimal("20"),
                        new BigDecimal("20"),
                        new BigDecimal("20"),
                        new BigDecimal("20"),
                        Prices.BEFORE_TAX,
                        Rounding.INVOICE,
                        "LY",
                        14,
                        "Questions about this invoice: 555 0100, or look in at the desk.",
                        card.version()));
        scene.workRates()
                .set(
                        List.of(
                                new WorkRates.Kind("Diagnosis", null),
                                new WorkRates.Kind("Mechanical", null),
                                new WorkRates.Kind("Electrical", new BigDecimal("104.00")),
                                new WorkRates.Kind("Programming", new BigDecimal("112.00"))),
                        HoursStep.TENTH,
                        new BigDecimal("57.50"),
                        scene.workRates().card().version());
        scene.terms()
                .set(
                        new Promise(12, new BigDecimal("20000"), "km"),
                        new Promise(12, new BigDecimal("20000"), "km"),
                        "Bring the vehicle and this invoice to Lantern Yard Motors. Wear, accidents and racing are left out. "
                                + "Your rights by law stand beside this promise.",
                        scene.terms().card().version());
        instrument(scene, "Scan tool 1", InstrumentKind.SCAN_TOOL, "0", "1");
        instrument(scene, "Meter 3", InstrumentKind.METER, "0.1", "2");
        instrument(scene, "Two-channel scope", InstrumentKind.SCOPE, "1", "1");
        instrument(scene, "Smoke cart", InstrumentKind.SMOKE_GENERATOR, "0", "0");
        instrument(scene, "Vacuum gauge", InstrumentKind.VACUUM_GAUGE, "1.6", "0");
        instrument(scene, "Fuel gauge, 10 bar", InstrumentKind.FUEL_GAUGE, "1", "0");
        instrument(scene, "Spark gap tester", InstrumentKind.SPARK_TESTER, "0", "0");
        instrument(scene, "Compression gauge", InstrumentKind.COMPRESSION_GAUGE, "2", "0");
        instrument(scene, "Low pressure gauge", InstrumentKind.PRESSURE_GAUGE, "1.6", "0");
        instrument(scene, "Contact thermometer", InstrumentKind.THERMOMETER, "0.5", "1");
        scene.limits()
                .enter(
                        null,
                        "BW22",
                        "fuel-pressure",
                        "pressure-key-on",
                        345.0,
                        400.0,
                        "kPa",
                        "Brightwater workshop sheet F-22, page 14");
    }

    private static void instrument(Scene scene, String name, InstrumentKind kind, String percent, String digits) {
        long id = scene.instruments()
                .add(new Instruments.Telling(
                        name, kind, new BigDecimal(percent), new BigDecimal(digits), null, null, null));
        scene.remember(kind.name(), id);
    }

    private static void fileTheCars(Scene scene) {
        Fleet.OWNERS
                .values()
                .forEach(owner -> scene.remember(
                        owner.key(), scene.customers().add(owner.telling()).id()));
        exempt(scene, "district", "HC 20417", "public health service");
        Fleet.CARS
                .values()
                .forEach(car -> scene.remember(
                        car.plate(),
                        scene.vehicles()
                                .add(scene.number(car.owner()), car.telling())
                                .id()));
    }

    private static void exempt(Scene scene, String owner, String number, String reason) {
        var known = scene.customers().get(scene.number(owner));
        scene.customers()
                .amend(
                        known.id(),
                        known.version(),
                        new Customers.Telling(
                                known.name(),
                                known.phone(),
                                known.email(),
                                known.address(),
                                known.contactBy(),
                                known.note(),
                                number,
                                reason,
                                LocalDate.of(2021, 4, 1)));
    }
}
