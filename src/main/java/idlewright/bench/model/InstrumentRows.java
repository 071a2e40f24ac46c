package idlewright.bench.model;

import java.util.List;
import java.util.Optional;
import org.springframework.data.jpa.repository.Query;
import org.springframework.data.repository.Repository;

public interface InstrumentRows extends Repository<Instrument, Long> {

    Instrument saveAndFlush(Instrument instrument);

    Optional<Instrument> findById(Long id);

    @Query("select i from Instrument i order by i.kind, i.name, i.id")
    List<Instrument> byKind();
}
