package idlewright.reference.trim;

/**
 * What must be known beside the trims.
 *
 * @param hotClosedLoop hot and in closed loop while they were read; in open loop they mean nothing
 * @param metering how this engine meters its air
 * @param flow the airflow under load against what the engine should draw there
 */
public record TrimSetting(boolean hotClosedLoop, Metering metering, FlowForLoad flow) {

    /** How the engine knows its air; a leak behind the sensor leans only an engine that weighs its air. */
    public enum Metering {
        MASS_AIR_FLOW,
        MANIFOLD_PRESSURE
    }

    /** The second half of the evidence when trims grow with load. */
    public enum FlowForLoad {
        LOW,
        NORMAL,
        NOT_READ
    }

    public static final TrimSetting USUAL = new TrimSetting(true, Metering.MASS_AIR_FLOW, FlowForLoad.NOT_READ);

    public TrimSetting with(FlowForLoad flow) {
        return new TrimSetting(hotClosedLoop, metering, flow);
    }
}
