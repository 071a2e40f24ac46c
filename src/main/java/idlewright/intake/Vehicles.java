package idlewright.intake;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.intake.model.Vehicle;
import idlewright.intake.model.VehicleRows;
import idlewright.intake.rules.EngineFamilies;
import idlewright.journal.Journal;
import idlewright.people.People;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for vehicles and their odometers. */
@Component
@Transactional
public class Vehicles {

    private static final BigDecimal KM_PER_MILE = new BigDecimal("1.609344");

    /** What the plates and the papers of a car tell. */
    public record Telling(
            @Nullable String vin,
            @Nullable String plate,
            @Nullable String make,
            @Nullable String model,
            @Nullable Integer modelYear,
            @Nullable String engineFamily,
            @Nullable BigDecimal displacementL,
            @Nullable Integer cylinders,
            @Nullable String fuel,
            @Nullable String aspiration,
            @Nullable String metering,
            @Nullable String gearbox,
            @Nullable String distanceUnit) {

        void check() {
            var problems = new LinkedHashMap<String, String>();
            if (make == null) {
                problems.put("make", "Enter the make, as the papers say it.");
            }
            if (model == null) {
                problems.put("model", "Enter the model.");
            }
            if (plate == null && vin == null) {
                problems.put("plate", "Enter the plate or the VIN, so that the car is found again.");
            }
            if (displacementL != null
                    && (displacementL.signum() <= 0 || displacementL.compareTo(new BigDecimal("30")) >= 0)) {
                problems.put("displacementL", "Enter the displacement in litres, like 2.2.");
            }
            if (cylinders != null && (cylinders < 1 || cylinders > 24)) {
                problems.put("cylinders", "Enter 1 to 24 cylinders.");
            }
            if (modelYear != null && (modelYear < 1900 || modelYear > 2100)) {
                problems.put("modelYear", "Enter the year with four digits, like 2014.");
            }
            Refused.ifAny(problems);
        }
    }

    private final VehicleRows rows;
    private final Journal journal;
    private final People people;
    private final JdbcClient jdbc;
    private final Clock clock;

    Vehicles(VehicleRows rows, Journal journal, People people, JdbcClient jdbc, Clock clock) {
        this.rows = rows;
        this.journal = journal;
        this.people = people;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    public VehicleView add(long customerId, Telling telling) {
        telling.check();
        var vehicle = new Vehicle(customerId, clock.instant());
        tell(vehicle, telling);
        rows.saveAndFlush(vehicle);
        journal.note(
                "vehicle added",
                null,
                "A %s %s was added.".formatted(telling.make(), telling.model()),
                Map.of("vehicle", vehicle.id(), "customer", customerId));
        return get(vehicle.id());
    }

    public void amend(long id, int version, Telling telling) {
        telling.check();
        Vehicle vehicle = rows.findById(id).orElseThrow(() -> NotFound.of("vehicle " + id));
        if (vehicle.version() != version) {
            VehicleView now = get(id);
            var clashes = new ArrayList<Stale.Clash>();
            clash(clashes, "VIN", telling.vin(), now.vin());
            clash(clashes, "plate", telling.plate(), now.plate());
            clash(clashes, "make", telling.make(), now.make());
            clash(clashes, "model", telling.model(), now.model());
            clash(clashes, "year", telling.modelYear(), now.modelYear());
            clash(clashes, "engine family", telling.engineFamily(), now.engineFamily());
            clash(clashes, "displacement", telling.displacementL(), now.displacementL());
            throw new Stale(
                    "The vehicle", clashes, "somebody at another terminal", null, "/vehicles/" + id + "/amending");
        }
        tell(vehicle, telling);
        rows.saveAndFlush(vehicle);
        journal.note("vehicle amended", null, "The details of a vehicle were amended.", Map.of("vehicle", id));
    }

    public void changeHands(long id, long newCustomerId) {
        Vehicle vehicle = rows.findById(id).orElseThrow(() -> NotFound.of("vehicle " + id));
        vehicle.changeHands(newCustomerId);
        journal.note(
                "vehicle changed hands",
                null,
                "A vehicle belongs to another customer now.",
                Map.of("vehicle", id, "customer", newCustomerId));
    }

    @OnlyReads
    public VehicleView get(long id) {
        return jdbc.sql("select " + columns() + " from vehicle v where v.id = ?")
                .param(id)
                .query((r, n) -> TicketReads.vehicle(r))
                .optional()
                .orElseThrow(() -> NotFound.of("vehicle " + id));
    }

    /** Every engine family the shop has named, by name, with how many cars have it. */
    @OnlyReads
    public Map<String, Integer> families() {
        var families = new LinkedHashMap<String, Integer>();
        jdbc.sql("""
                        select engine_family, count(*) from vehicle
                        where engine_family is not null group by engine_family order by engine_family""").query((r, n) -> families.put(r.getString(1), r.getInt(2))).list();
        return families;
    }

    @OnlyReads
    public List<VehicleView> of(long customerId) {
        return jdbc.sql("select " + columns() + " from vehicle v where v.customer_id = ? order by v.id")
                .param(customerId)
                .query((r, n) -> TicketReads.vehicle(r))
                .list();
    }

    /** Other cars that carry the same VIN: worth a look before a second one is made. */
    @OnlyReads
    public List<VehicleView> withVin(String vin) {
        return jdbc.sql("select " + columns() + " from vehicle v where upper(v.vin) = ? order by v.id")
                .param(vin.toUpperCase(Locale.ROOT))
                .query((r, n) -> TicketReads.vehicle(r))
                .list();
    }

    @OnlyReads
    public List<TicketView.Distance> distances(long vehicleId) {
        return jdbc.sql(
                        "select distance, unit, read_at, remark from odometer where vehicle_id = ? order by id desc limit 50")
                .param(vehicleId)
                .query((r, n) -> new TicketView.Distance(
                        r.getBigDecimal(1), r.getString(2), r.getTimestamp(3).toInstant(), r.getString(4)))
                .list();
    }

    /** Keeps what the odometer showed; less than before is a question that must be answered, not an error. */
    public void readOdometer(
            long vehicleId, TicketNumber ticket, BigDecimal distance, String moment, @Nullable String remark) {
        VehicleView vehicle = get(vehicleId);
        if (distance.signum() < 0 || distance.compareTo(new BigDecimal("9999999")) > 0) {
            throw Refused.at("distance", "Enter what the odometer shows, between 0 and 9,999,999.");
        }
        var last = distances(vehicleId).stream().findFirst();
        if (last.isPresent() && (remark == null || remark.isBlank())) {
            BigDecimal before = in(vehicle.distanceUnit(), last.get());
            if (distance.compareTo(before) < 0) {
                throw Refused.at(
                                "distanceRemark",
                                "Say why it shows less than before: misread, replaced or in other units.")
                        .and(
                                "distance",
                                "It showed %s before, now %,.0f. Look again, or say why."
                                        .formatted(last.get().words(), distance));
            }
        }
        jdbc.sql("""
                insert into odometer (vehicle_id, ticket_number, distance, unit, read_at, read_by, moment, remark)
                values (?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(vehicleId)
                .param(ticket.value())
                .param(distance)
                .param(vehicle.distanceUnit())
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .param(moment)
                .param(remark)
                .update();
    }

    private static BigDecimal in(String unit, TicketView.Distance distance) {
        if (distance.unit().equals(unit)) {
            return distance.value();
        }
        return unit.equals("km")
                ? distance.value().multiply(KM_PER_MILE)
                : distance.value().divide(KM_PER_MILE, 1, java.math.RoundingMode.HALF_UP);
    }

    private static String columns() {
        String both = TicketReads.customerAndVehicle();
        return both.substring(both.indexOf("v.id v_id"));
    }

    private static void tell(Vehicle vehicle, Telling t) {
        vehicle.tell(
                t.vin() == null ? null : t.vin().replaceAll("\\s", "").toUpperCase(Locale.ROOT),
                t.plate() == null ? null : t.plate().strip().toUpperCase(Locale.ROOT),
                Objects.requireNonNull(t.make()),
                Objects.requireNonNull(t.model()),
                t.modelYear());
        vehicle.tellEngine(
                t.engineFamily() == null ? null : EngineFamilies.kept(t.engineFamily()),
                t.displacementL(),
                t.cylinders(),
                Objects.requireNonNullElse(t.fuel(), "PETROL"),
                Objects.requireNonNullElse(t.aspiration(), "NATURAL"),
                Objects.requireNonNullElse(t.metering(), "UNKNOWN"),
                Objects.requireNonNullElse(t.gearbox(), "UNKNOWN"),
                Objects.requireNonNullElse(t.distanceUnit(), "km"));
    }

    private static void clash(
            List<Stale.Clash> clashes, String field, @Nullable Object yours, @Nullable Object theirs) {
        if (!Objects.equals(yours, theirs)) {
            clashes.add(new Stale.Clash(
                    field, yours == null ? "" : yours.toString(), theirs == null ? "" : theirs.toString()));
        }
    }
}
