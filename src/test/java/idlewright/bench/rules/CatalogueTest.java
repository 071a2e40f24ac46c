package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class CatalogueTest {
    @Test
    void loads() {
        assertThat(Catalogue.load().procedures()).hasSizeGreaterThan(30);
    }
}
