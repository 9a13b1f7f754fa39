import { runInThisContext } from 'node:vm';

/**
 * Puts a stand-in before the runtime's `Response`, for everybody who names it without `globalThis`. The renderer looks at it
 * when it is loaded, to see whether it has a method that the runtime's has; and with the first look, even at its descriptor,
 * the runtime loads all that it needs for networks, which takes as long as drawing a page. Whoever makes one gets the runtime's.
 * To be called once in a process.
 */
export function responseWhenMade(): void {
  class WithBytes {
    bytes(): void {
      // only looked for
    }
  }
  const standIn = new Proxy(WithBytes, {
    construct: (_, given) => Reflect.construct(globalThis.Response, given) as object,
    get(target, name) {
      if (name === Symbol.hasInstance) return isResponse;
      return Reflect.get(name in target ? target : globalThis.Response, name) as unknown;
    },
  });
  // a binding of scripts stands before the global object's property, which stays what it is
  const put = runInThisContext('let Response; (standIn) => { Response = standIn; }') as (one: unknown) => void;
  put(standIn);
}

function isResponse(one: unknown): boolean {
  return Object.prototype.toString.call(one) === '[object Response]';
}
