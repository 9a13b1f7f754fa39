/** The renderer's answer to whether a layer, or a group of them, is shown. */
interface LayerConfig {
  isVisible(group: unknown): boolean;
}

/** Follows marked content through a page and tells whether what is drawn now can be seen. */
export class LayerVisibility {
  readonly #config: LayerConfig;
  readonly #nested: boolean[] = [];
  #hidden = 0;

  constructor(config: LayerConfig) {
    this.#config = config;
  }

  get visible(): boolean {
    return this.#hidden === 0;
  }

  /** @param layer  the layer that the content belongs to, or null where it belongs to none */
  begin(layer: unknown): void {
    const hides = layer !== null && layer !== undefined && !this.#config.isVisible(layer);
    this.#nested.push(hides);
    this.#hidden += hides ? 1 : 0;
  }

  end(): void {
    this.#hidden -= this.#nested.pop() === true ? 1 : 0;
  }
}
